"""Lets tests import the plain modules that stand beside them (`random_builds` and its kin)."""

import sys
from pathlib import Path

BESIDE = str(Path(__file__).parent)
if BESIDE not in sys.path:
    sys.path.insert(0, BESIDE)
