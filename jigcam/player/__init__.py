"""The page that plays the cut: one HTML file of all G-code files of a job, and of what routers then do in templates.

Words: a *film* is one file, or one ride, as the page plays it: strokes in the order of time, bits, stock, drawing, and
what the proof measured. What the page draws comes from the text of the files, as the strict reader gives it.
"""

from jigcam.player.page import PAGE, page_of

__all__ = ["PAGE", "page_of"]
