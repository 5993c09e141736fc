"""What goes wrong outside a build: a file that is not there, a folder that cannot be written."""


class Trouble(Exception):  # noqa: N818  (it is told as trouble)
    """The message stands behind `castlang:`, and the exit status is 2."""
