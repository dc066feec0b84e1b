"""What holds for every test: one thread for arrays, and the same random examples on every machine."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before NumPy comes: many tests run beside each other

from hypothesis import settings

settings.register_profile("house", derandomize=True, deadline=None)
settings.load_profile("house")
