"""`python -m batterboard` is the command `batterboard`."""

from batterboard.cli import run

run()
