"""Scenes: from joints, template plans and readings of files to drawings."""

from jigcam.drawing.scenes.program import Flaw, scene_program
from jigcam.drawing.scenes.section import scene_section
from jigcam.drawing.scenes.template import scene_template

__all__ = ["Flaw", "scene_program", "scene_section", "scene_template"]
