"""The binder on paper: the only door to reportlab, opened when a PDF is made.

Made for a black-and-white laser printer, a wet thumb and reading at arm's length: only black and white,
told apart by weight and pattern. A sheet becomes strips, strips fill pages, pages are framed and drawn.
"""

from castlang.out.pdf.document import missing_characters, page_count, pdf_of

__all__ = ["missing_characters", "page_count", "pdf_of"]
