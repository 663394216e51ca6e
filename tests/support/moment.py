"""Lets every page believe that it is a given moment."""

import datetime as dt

import pytest

from rinklog.web import access


def stand_still(monkeypatch: pytest.MonkeyPatch, at: dt.datetime) -> None:
    """From now on the gate says that it is `at`."""

    class Still:
        @staticmethod
        def now() -> dt.datetime:
            return at

    monkeypatch.setattr(access, "timezone", Still)
