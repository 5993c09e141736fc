"""What tidying can say of itself when it must not write."""


class MeaningNotKept(Exception):  # noqa: N818  (a bug of ours, told as one)
    """The tidied text would not mean what the text means: a bug of castlang's, never a builder's mistake."""
