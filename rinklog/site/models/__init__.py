"""The site: how the ground lies, where the boards are to stand, and what they are built from. Lengths in metres."""

from rinklog.site.models.ground import Layout, Materials, Survey

__all__ = ["Layout", "Materials", "Survey"]
