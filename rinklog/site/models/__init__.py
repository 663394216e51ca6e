"""The site: the ground, where the boards stand, what is put up and taken down, what lies in the store, snow fences."""

from rinklog.site.models.fences import Exposure, FenceLook, SnowFence
from rinklog.site.models.ground import Layout, Materials, Survey
from rinklog.site.models.lists import SiteTask
from rinklog.site.models.store import StoredItem

__all__ = [
    "Exposure",
    "FenceLook",
    "Layout",
    "Materials",
    "SiteTask",
    "SnowFence",
    "StoredItem",
    "Survey",
]
