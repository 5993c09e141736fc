"""Where figures and findings come from, in the words that the sheets print."""

ARITHMETIC = "arithmetic"
COMMON = "common practice, no source"
