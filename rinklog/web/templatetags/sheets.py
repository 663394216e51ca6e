"""`{% sheet 'css/room.css' %}`: a style sheet, linked or within the page."""

from typing import Any

from django import template
from django.utils.safestring import SafeString

from rinklog.web import sheets
from rinklog.web.offline import precache

register = template.Library()


@register.simple_tag(takes_context=True)
def sheet(context: dict[str, Any], name: str) -> SafeString:
    """See `rinklog.web.sheets`."""
    return sheets.sheet(context.get("request"), name)


@register.simple_tag
def sheets_version() -> str:
    """What a phone that has kept every sheet says back, as a cookie."""
    return precache.version()
