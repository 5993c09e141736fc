"""Lets tests import the plain modules that stand beside them (`random_builds` and its kin), and find
`castlang` as a person would who has switched the environment on."""

import os
import sys
from pathlib import Path

BESIDE = str(Path(__file__).parent)
if BESIDE not in sys.path:
    sys.path.insert(0, BESIDE)

os.environ.pop("COLUMNS", None)  # a width of the developer's own would be the commands' too

PROGRAMS = str(Path(sys.executable).parent)
if PROGRAMS not in os.environ.get("PATH", "").split(os.pathsep):
    os.environ["PATH"] = f"{PROGRAMS}{os.pathsep}{os.environ.get('PATH', '')}"
