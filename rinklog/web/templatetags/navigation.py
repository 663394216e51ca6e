"""`{% current address %}`: marks the link to the page that is open, for eyes and for screen readers."""

from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

register = template.Library()


@register.simple_tag(takes_context=True)
def current(context: dict[str, Any], address: str) -> SafeString:
    """` aria-current="page"` in the link to this very page, else nothing."""
    here = context["request"].path == address
    return mark_safe(' aria-current="page"' if here else "")
