"""The sentences of the advice, by id. Values stand in them already in the reader's units; see wording.py."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

SENTENCES: dict[str, Promise | str] = {
    # snow
    "snow.clear": _("Clear the snow, up to %(snow)s, from %(zones)s by %(by)s."),
    "snow.before-flood": _(
        "It has to be off before the flood at %(starts)s: snow in a coat freezes white and weak."
    ),
    "snow.costs": _(
        "Left on until %(until)s it costs about %(hours)s of freezing: %(snowed)s of new ice instead of %(bare)s."
    ),
    "snow.slush": _(
        "Water remains beneath %(zones)s; from %(limit)s of new snow on, the ice sinks and its surface turns to slush."
    ),
    "snow.tool": _("This depth wants %(tool)s; this rink's limit for machines is %(limit)s."),
    "snow.wait": _("Wait with the snow: it falls until about %(stops)s, and %(snow)s lies now."),
    "snow.more-to-come": _("About %(water)s more is to come, measured as water."),
    "snow.leave": _(
        "Leave the snow on (%(snow)s): freezing rain is forecast from %(starts)s, %(rain)s in all."
    ),
    "snow.leave-air": _(
        "The air is then %(low)s to %(high)s; the snow takes the rain and comes off with it."
    ),
    # a leak
    "leak.suspected": _(
        "A leak is suspected: %(water_in)s went in since building began, the last holes say that %(there)s is there; "
        "the level is %(level)s too low."
    ),
    "leak.look": _(
        "Look along the foot of the boards, at the low corner, at folds and stakes, and at the ground."
    ),
    "leak.keep-off": _("Ice with no water beneath breaks: keep people off until it is found."),
    # floods
    "flood.tonight": _(
        "Flood tonight from %(starts)s, a coat of %(coat)s: frozen through by about %(frozen)s. "
        "Frozen by %(deadline)s in %(chance)s of the forecasts."
    ),
    "flood.band": _("In one forecast of ten it is frozen by %(low)s, in nine of ten by %(high)s."),
    "flood.ice-assumed": _("There is no ice estimate yet; 10 cm of bare ice is assumed."),
    "flood.hose": _(
        "The hose runs for about %(hours)s (%(water)s): the times given are those of the zone it comes to last."
    ),
    "flood.hose-unknown": _(
        "How long the hose runs is not counted: no bucket test tells its flow. Begin earlier by as much as it takes."
    ),
    "flood.spoiler": _("What could spoil it: %(what)s."),
    "flood.corrected": _(
        "Corrected by what earlier floods here took: the hours of freezing are times %(factor)s."
    ),
    "flood.too-warm-by-rule": _(
        "By the rule of thumb %(air)s is too warm, above %(limit)s (this rink's setting; Quebec towns say −7 °C). "
        "The physics of this coat says it freezes; the physics is followed here."
    ),
    "flood.warm-enough-elsewhere": _("Minneapolis parks flood from %(limit)s down."),
    "flood.too-cold-by-rule": _(
        "By the rule of thumb %(air)s is too cold, below %(limit)s: brittle ice (Minneapolis parks), frozen hoses."
    ),
    "flood.minutes-by-rule": _(
        "Eagan MN waits 10 to 15 minutes between coats in deep cold; a coat of %(coat)s takes %(hours)s "
        "to freeze through here. Set enough for the next coat comes earlier."
    ),
    "flood.not-tonight": _("Not tonight: no flood would do."),
    "flood.not-warm": _(
        "Too mild: a coat of only %(coat)s is frozen by %(deadline)s o'clock in %(chance)s of the forecasts, "
        "%(wanted)s are asked for. The air is %(air)s then."
    ),
    "flood.not-mild": _(
        "The air is %(air)s, and this rink floods only up to %(limit)s. Cold ice may still freeze a thin coat from "
        "below, but mild air keeps it soft."
    ),
    "flood.not-wind": _("Too windy: %(wind)s at the best hour, and this rink's limit is %(limit)s."),
    "flood.not-snow": _("Snow falls on the wet coat: %(water)s as water from %(starts)s on."),
    "flood.not-rain": _("Rain falls on the coat: %(water)s from %(starts)s on."),
    "flood.not-wet": _("The last coat is still wet at every hour that the crew can flood."),
    "flood.not-short": _("The forecast ends before a coat of tonight would be frozen."),
    "flood.not-late": _("The hours at which this crew floods are over for tonight."),
    "flood.rule-would": _(
        "By the rule of thumb %(air)s at %(at)s is cold enough (below %(limit)s; Quebec towns say −7 °C). "
        "The physics says it would not be frozen in time; the physics is followed here."
    ),
    "flood.next": _(
        "The next good time is %(starts)s: a coat of %(coat)s, in time in %(chance)s of the forecasts."
    ),
    "flood.none-in-sight": _("No good time is in sight for the next three days."),
    # covers
    "tarp.tomorrow": _(
        "Tomorrow is a day for dark covers on %(zones)s: lay them at %(lay)s, lift them at %(lift)s; "
        "about %(melt)s melts."
    ),
    "tarp.lift-in-time": _("Lifted later, the water freezes again and holds the cover fast."),
    # thickness and machines
    "check.due": _("A thickness check is due today: drill before anybody relies on the ice."),
    "check.mild": _("It has been %(air)s today, warmer than %(limit)s."),
    "check.warming": _("It has warmed from %(low)s to %(high)s within a day."),
    "check.last": _("The last hole was drilled %(at)s."),
    "check.never": _("No hole has been drilled this season."),
    "machines.none": _("No machine on the ice: no hole counts now, and %(wanted)s are needed."),
    "machines.few": _("No machine on the ice: %(holes)s of %(wanted)s holes are measured."),
    "machines.thin": _("No machine on the ice: the hole at %(zone)s counts only %(thinnest)s."),
    "machines.met": _("The rule for machines is met: %(holes)s holes, the thinnest counts %(thinnest)s."),
    "machines.rule": _(
        "This rink asks for %(holes)s holes with at least %(least)s in every one, drilled within a week "
        "and since it was last mild."
    ),
    "machines.person": _("It does not say that the ice bears: a person decides, after looking."),
    # wear
    "wear.due": _(
        "Pour the zones that wear separately: %(zones)s. By the rule, days between such pours: %(days)s."
    ),
    "wear.last": _("The one that waited longest had water last %(at)s."),
    "wear.never": _("At least one of them has had no water of its own this season."),
    # hazards
    "hazard.cone": _("Put a cone at hazard %(number)s, %(kind)s, %(where)s: none is out."),
    "hazard.severity": _("It was judged: %(severity)s."),
    "hazard.open": _("Hazard %(number)s, %(kind)s, %(where)s has waited %(days)s days for a repair."),
    "hazard.rule": _("This rink asks to be reminded after %(days)s days."),
    # thaw
    "thaw.coming": _("A thaw is forecast from %(starts)s: %(hours)s above freezing, up to %(warmest)s."),
    "thaw.rule": _("Some crews close after %(hours)s hours above freezing, not after one or two."),
    "thaw.rain": _("With it come %(rain)s of rain; more than 10 mm harms."),
    "thaw.rebuild": _("After two days at 0 °C and above it takes about two days of floods to be back."),
    "thaw.keep-off": _("Keep people and machines off soft ice: footprints freeze in."),
    # wet coat
    "wet.keep-off": _("Keep people off %(zones)s: up to %(depth)s of water or slush lies on the ice."),
    "wet.until": _("In half of the forecasts it is frozen by %(at)s."),
    "wet.not-in-sight": _("It does not freeze as far as the forecast goes."),
    "wet.look": _("It is an estimate: look before you let anybody on."),
    # questions
    "question.asked": _("Is the hole at %(zone)s right? %(measured)s was written down."),
    "question.expected": _(
        "About %(expected)s was expected; the hole is kept and not used until somebody answers."
    ),
    "question.more": _("Earlier holes that wait for an answer: %(others)s."),
    # repairs
    "repair.tonight": _("Water of %(coat)s freezes here in about %(hours)s from %(starts)s on."),
    "repair.too-mild": _("Water of %(coat)s does not freeze here as far as the forecast goes."),
    "repair.no-weather": _("Whether it freezes is not known: there is no forecast."),
    "repair.sun": _("Tomorrow's sun melts about %(melt)s under a dark cover, from %(lay)s to %(lift)s."),
    "repair.no-sun": _("Tomorrow's sun melts less than %(least)s under a dark cover: not worth it."),
    "repair.flame": _("About %(minutes)s minutes of flame take off %(melt)s over a plate of 30 by 30 cm."),
    "repair.hot": _("It melts about %(melt)s into the ice, then has to freeze itself."),
    "repair.by-hand": _("It needs no weather, only a sharp edge; best while it is cold and dry."),
    "repair.held": _("Here, %(held)s of %(tried)s such repairs still held after %(days)s days."),
    "repair.little-history": _("There is too little history on this rink to say how long it holds."),
}

SPOILERS = ("wind", "snow", "rain", "sun", "cold")

ACTS: dict[str, Promise | str] = {
    "log-snow": _("Log snow removal"),
    "log-flood": _("Log this flood"),
    "log-tarp": _("Log a tarp melt"),
    "log-hole": _("Log a drill hole"),
    "log-pour": _("Log a bucket pour"),
    "open-hazard": _("Open the hazard"),
    "open-entry": _("Open the entry"),
    "log-patch": _("Log a patch"),
    "log-torch": _("Log a torch repair"),
    "log-snow-removal": _("Log snow removal"),
    "open-fill": _("Open the first fill"),
    "make-shift": _("Make a shift of it"),
}
