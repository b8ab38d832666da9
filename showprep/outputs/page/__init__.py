"""The page: one HTML file to look at and to print."""

from showprep.outputs.page.render import render_page
from showprep.outputs.words.sheet import Sheet

__all__ = ["Sheet", "render_page"]
