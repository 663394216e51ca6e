"""The site: how the ground lies, where the boards stand, what is put up and taken down, and what lies in the store."""

from rinklog.site.models.ground import Layout, Materials, Survey
from rinklog.site.models.lists import SiteTask
from rinklog.site.models.store import StoredItem

__all__ = ["Layout", "Materials", "SiteTask", "StoredItem", "Survey"]
