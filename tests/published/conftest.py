"""The published checks are also a script of their own: its folder is where its modules are found."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
