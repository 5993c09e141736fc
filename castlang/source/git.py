"""The door to git: one command, its output or why there is none. Only commands whose output git promises to
keep are called (git(1), "Low-level commands (plumbing)")."""

import os
import subprocess
from pathlib import Path

LOCAL = (
    "GIT_ALTERNATE_OBJECT_DIRECTORIES", "GIT_CONFIG", "GIT_CONFIG_PARAMETERS", "GIT_CONFIG_COUNT",
    "GIT_OBJECT_DIRECTORY", "GIT_DIR", "GIT_WORK_TREE", "GIT_IMPLICIT_WORK_TREE", "GIT_GRAFT_FILE",
    "GIT_INDEX_FILE", "GIT_NO_REPLACE_OBJECTS", "GIT_REPLACE_REF_BASE", "GIT_PREFIX",
    "GIT_INTERNAL_SUPER_PREFIX", "GIT_SHALLOW_FILE", "GIT_COMMON_DIR",
)  # fmt: skip
"""What ties a run of git to one repository, from `git rev-parse --local-env-vars`."""


def git(folder: Path, *words: str, as_called: bool = False) -> bytes | str:
    """What `git WORDS` prints in `folder`; or why it could not, in git's words.

    as_called: keep the repository and the index that a hook was called for, in place of the folder's own.
    """
    given = {name: value for name, value in os.environ.items() if as_called or name not in LOCAL}
    fixed = {
        "LC_ALL": "C",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_LITERAL_PATHSPECS": "1",
    }
    try:
        done = subprocess.run(
            ["git", "--no-pager", *words],
            cwd=folder,
            env=given | fixed,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            check=False,
        )
    except FileNotFoundError:
        return "git cannot be found" if folder.is_dir() else f"there is no folder {folder}"
    except (OSError, ValueError) as error:
        return f"git cannot be run ({getattr(error, 'strerror', None) or error})"
    if done.returncode == 0:
        return done.stdout
    told = done.stderr.decode("utf-8", errors="replace").strip().splitlines()
    return told[0].removeprefix("fatal: ").removeprefix("error: ") if told else "git says no, and not why"


def line_of(output: bytes) -> str:
    """The one line that a command printed; a path in it is kept whole, whatever its encoding."""
    return os.fsdecode(output).removesuffix("\n")
