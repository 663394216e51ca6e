"""Every page in every language: what machines read stays the same, and no sentence stays English."""

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from rinklog.crew.rights import Right
from rinklog.work.kinds import KINDS
from tests.support.cast import Cast
from tests.web.who_may_table import TABLE

OTHERS = [code for code, _name in settings.LANGUAGES if code != "en"]
NUMBER = re.compile(r"-?\d*\.?\d+")
DRAWN = {"x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "rx", "ry", "width", "height", "d", "points", "dx", "dy"}
DRAWN |= {"transform", "viewbox", "min", "max", "step", "value", "stroke-dasharray"}
READ = {"aria-label", "title", "alt", "placeholder", "content"}


class Reader(HTMLParser):
    """What machines and what people read of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.drawn: list[tuple[str, str, str]] = []
        self.read: list[str] = []
        self.inside: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.inside.append(tag)
        for name, value in attrs:
            if name in DRAWN or name.startswith("data-"):
                self.drawn.append((tag, name, value or ""))
            elif name in READ:
                self.read.append(value or "")

    def handle_data(self, data: str) -> None:
        if " ".join(data.split()):
            self.read.append(" ".join(data.split()))
