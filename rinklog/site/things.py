"""What a rink is built and kept with: the words of the shopping list and of the store."""

from django.db import models
from django.utils.translation import gettext_lazy as _


class Thing(models.TextChoices):
    """A kind of thing."""

    BOARD = "board", _("boards")
    BENT_BOARD = "bent-board", _("bent boards for the corners")
    BRACKET = "bracket", _("brackets")
    STAKE = "stake", _("stakes")
    LINER = "liner", _("liner")
    ROPE_LIGHT = "rope-light", _("rope light, reels")
    NET = "net", _("nets")
    FENCE = "fence", _("snow fence")
    HOSE = "hose", _("hoses and nozzles")
    TOOL = "tool", _("shovels and hand tools")
    MACHINE = "machine", _("machines")
    LIGHT = "light", _("lights and leads")
    SIGN = "sign", _("signs, cones and barriers")
    FIRST_AID = "first-aid", _("first aid and fire extinguishers")
    WATER = "water", _("water")
    OTHER = "other", _("other things")
