"""Scenes: from joints, template plans and readings of files to drawings."""

from jigcam.drawing.scenes.dovetail import scene_dovetail
from jigcam.drawing.scenes.groove import scene_groove
from jigcam.drawing.scenes.key import scene_key
from jigcam.drawing.scenes.program import Place, scene_program
from jigcam.drawing.scenes.section import scene_section
from jigcam.drawing.scenes.template import scene_template

__all__ = ["Place", "scene_dovetail", "scene_groove", "scene_key", "scene_program", "scene_section", "scene_template"]
