"""`python -m jigcam`."""

from jigcam.cli import main

main(prog_name="jigcam")
