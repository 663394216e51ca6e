"""The errors of rinklog.facts under the name that work's callers know."""

from rinklog.facts import Conflict, Refused

__all__ = ["Conflict", "Refused"]
