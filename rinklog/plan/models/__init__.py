"""Intentions: recurring work and its due dates, shifts and who is on them, what people may and can do."""

from rinklog.plan.models.on_shift import HandOver, HandOverRead, OnIce
from rinklog.plan.models.people import Availability, Holiday, Permission, PermissionKind, Team
from rinklog.plan.models.recurring import DueDate, RecurringTask
from rinklog.plan.models.shifts import Shift, ShiftEvent, ShiftPlace

__all__ = [
    "Availability",
    "DueDate",
    "HandOver",
    "HandOverRead",
    "Holiday",
    "OnIce",
    "Permission",
    "PermissionKind",
    "RecurringTask",
    "Shift",
    "ShiftEvent",
    "ShiftPlace",
    "Team",
]
