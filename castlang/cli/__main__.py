"""`python -m castlang.cli` is `castlang`."""

from castlang.cli.main import run

run()
