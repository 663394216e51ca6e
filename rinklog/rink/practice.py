"""Rules of practice: every threshold the crew works by, with its published default and who published it.

Practice disagrees by place, so a rule is only a default until the keeper chooses. `quantity` says how the value is
shown and typed; values are SI (temperatures in °C).
"""

from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

Text = str | Promise


@dataclass(frozen=True)
class Rule:
    """One threshold: its default, what is allowed, and where the default and its rivals were published."""

    key: str
    title: Text
    quantity: str  # "temperature", "depth", "days", "hours", "people", "holes", "number", "speed"
    default: float
    lowest: float
    highest: float
    source: str
    others: str = ""


RULES: tuple[Rule, ...] = (
    Rule(
        "start_night_c",
        _("Start building when nights are below"),
        "temperature",
        -5.0,
        -30,
        0,
        "Burlington ON, Neighbourhood rinks: below −5 °C for 5 nights",
        "Ritchie league, Edmonton: −10 °C; Quebec towns: about −10 °C",
    ),
    Rule(
        "start_nights",
        _("Nights in a row before building starts"),
        "days",
        5,
        1,
        21,
        "Burlington ON, Neighbourhood rinks: 5 nights",
        "Montreal guide: 3 days; Minneapolis parks: 10 days",
    ),
    Rule(
        "flood_warmest_c",
        _("Too warm to flood above"),
        "temperature",
        -7.0,
        -30,
        0,
        "Quebec towns: above −7 °C",
        "Minneapolis parks flood from −5 °C",
    ),
    Rule(
        "flood_coldest_c",
        _("Too cold to flood below"),
        "temperature",
        -23.0,
        -45,
        -5,
        "Minneapolis parks: −23 °C, brittle",
        "Calgary crews: −20 °C, the hose freezes; Madison WI: no limit",
    ),
    Rule(
        "coat_thickest_m",
        _("Thickest coat"),
        "depth",
        0.010,
        0.001,
        0.2,
        "common practice, no source: many thin coats",
        "US Ice Rink Assoc. magazine 2017: from 13 mm it freezes soft and airy; Minneapolis parks: 25 mm",
    ),
    Rule(
        "snow_clear_m",
        _("Clear with machines from a snow depth of"),
        "depth",
        0.030,
        0.002,
        0.5,
        "Montreal guide: 3 cm up, machines; less, scraper or brush",
        "Edmonton federation: blower from 1.3 cm",
    ),
    Rule(
        "machine_thickness_m",
        _("Ice needed before a machine goes on"),
        "depth",
        0.1016,
        0.02,
        1.0,
        "Naperville Park District IL, Maintenance guidelines (2023 plan): 10 cm in 3 to 4 drill holes",
        "Madison WI parks: 10 to 15 cm; Tuusula FI, on a lake: 35 to 40 cm",
    ),
    Rule(
        "machine_holes",
        _("Drill holes needed before a machine goes on"),
        "holes",
        3,
        1,
        20,
        "Naperville Park District IL: 3 to 4 holes",
    ),
    Rule(
        "skate_thickness_m",
        _("Least ice before people skate"),
        "depth",
        0.10,
        0.02,
        0.5,
        "Norwegian guides, Naperville Park District IL: 10 cm at the thinnest spot, lined",
        "Marsh Canada: 5 cm on land",
    ),
    Rule(
        "thickness_check_c",
        _("Daily thickness check when it is warmer than"),
        "temperature",
        -5.0,
        -20,
        5,
        "Insurer's rules, Highlands East ON 2017: daily above −5 °C, and after any marked warming",
        "Naperville Park District IL: re-check above −1 °C",
    ),
    Rule(
        "close_warm_c",
        _("Close above"),
        "temperature",
        0.0,
        -10,
        10,
        "Ritchie league, Edmonton: above 0 °C",
        "Lynwood Village, Ottawa: skate gently above −3 °C",
    ),
    Rule(
        "close_cold_c",
        _("Close below"),
        "temperature",
        -20.0,
        -45,
        0,
        "Ritchie league, Edmonton: below −20 °C",
        "College Park, Saskatoon: no supervision below −28 °C",
    ),
    Rule(
        "flood_never_c",
        _("No flood at all while the air is above"),
        "temperature",
        0.0,
        -10,
        3,
        "common practice, no source; Minneapolis parks: below 0 °C day and night",
    ),
    Rule(
        "flood_chance_frac",
        _("Flood only when the coat is frozen in time in this share of forecasts"),
        "number",
        0.8,
        0.3,
        0.99,
        "common practice, no source: four nights of five",
    ),
    Rule(
        "flood_first_hour",
        _("Hour from which the crew can flood"),
        "number",
        17,
        0,
        23,
        "crews: evening after lock-up; Konnerud, Norway 2014: two a night, 19 to 22",
        "Mankato MN: from 4 in the morning; Saint-Bruno QC: shift from 22 to 6",
    ),
    Rule(
        "flood_last_hour",
        _("Hour after which no flood is begun"),
        "number",
        23,
        0,
        23,
        "Konnerud, Norway 2014: 19 to 22; Minnesota crews: late night",
        "Chatfield MN: every 2 hours till midnight",
    ),
    Rule(
        "opens_hour",
        _("Hour by which a coat must be frozen"),
        "number",
        8,
        4,
        16,
        "Ritchie league, Edmonton: open from 8:30",
        "Montreal: open from 7",
    ),
    Rule(
        "flood_windy_ms",
        _("Too windy to flood from"),
        "speed",
        8.0,
        2,
        20,
        "common practice, no source: wind makes ripples and shell ice",
    ),
    Rule(
        "wear_days",
        _("Pour worn zones separately every"),
        "days",
        1,
        1,
        14,
        "Ontario Court of Appeal 1995 (an arena): worn areas flooded separately at each day's end",
    ),
    Rule(
        "hazard_days",
        _("Remind of an unrepaired hazard after"),
        "days",
        2,
        1,
        30,
        "common practice, no source",
    ),
    Rule(
        "warming_k",
        _("A marked warming is a rise within a day of"),
        "number",
        8.0,
        2,
        30,
        "common practice, no source; Highlands East ON 2017 asks for a check after any marked warming",
    ),
    Rule(
        "recheck_c",
        _("Measured holes count no longer after it was warmer than"),
        "temperature",
        -1.0,
        -15,
        5,
        "Naperville Park District IL: re-check above −1 °C",
    ),
    Rule(
        "thaw_hours",
        _("Warn of a thaw of at least this many hours above 0 °C in a day"),
        "number",
        7,
        1,
        24,
        "Glabar Park, Ottawa: close after 7 hours above 0 °C, not after 1 or 2",
    ),
    Rule(
        "least_crew",
        _("Least crew"),
        "people",
        6,
        1,
        60,
        "Toronto, Natural ice rinks 2024; London ON, Ice rink guide: 6",
        "County of Grande Prairie; Glabar Park: 4",
    ),
    Rule(
        "shifts_a_week",
        _("Most shifts of one person in seven days"),
        "number",
        2,
        1,
        7,
        "common practice, no source",
        "N. Glenora: one night a fortnight; Keyserlokka, Oslo: a team for each weekday",
    ),
    Rule(
        "shift_rest_minutes",
        _("Rest between two shifts of one person"),
        "hours",
        20 * 60,
        0,
        72 * 60,
        "common practice, no source: not two nights running",
    ),
    Rule(
        "unfilled_minutes",
        _("Tell coordinators of a shift that lacks people, so long before it"),
        "hours",
        24 * 60,
        60,
        7 * 24 * 60,
        "the crew's choice",
    ),
    Rule(
        "off_ice_minutes",
        _("Look for somebody who is not off the ice, so long after they meant to be"),
        "minutes",
        15,
        1,
        120,
        "the crew's choice",
    ),
    Rule(
        "undo_minutes",
        _("Minutes during which a saved entry can be undone with one tap"),
        "minutes",
        15,
        1,
        240,
        "the crew's choice",
    ),
)

BY_KEY = {rule.key: rule for rule in RULES}
