"""jigcam: from a joint on a board to a template or a tool path that has proved itself before wood is cut."""

__version__ = "0.1.0"
