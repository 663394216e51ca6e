"""A forecast thaw: from when, how long, how warm, and what it means for opening."""

from rinklog.advice.items import Item, Urgency
from rinklog.advice.said import Said, air, count, hours, moment, rain, say
from rinklog.advice.situation import HOUR, HourAhead, Situation

AHEAD_H = 72
REBUILD_H = 36  # "2 days at 0+" of Quebec towns: more than a day and a half above 0 in the stretch
HARMS_MM = 10.0  # rain over 10 mm harms: Quebec towns


def items(now: Situation) -> list[Item]:
    """The first stretch in three days with enough hours above 0 °C."""
    warm = stretch(now)
    if warm is None:
        return []
    why: list[Said] = [say("thaw.rule", hours=count(now.rules["thaw_hours"]))]
    rain_mm = sum(hour.rain_mm for hour in warm)
    if rain_mm > HARMS_MM:
        why.append(say("thaw.rain", rain=rain(rain_mm)))
    if len(warm) >= REBUILD_H:
        why.append(say("thaw.rebuild"))
    why.append(say("thaw.keep-off"))
    soon = warm[0].at - now.now <= 24 * HOUR
    return [
        Item(
            "thaw",
            Urgency.TONIGHT if soon else Urgency.SOON,
            say(
                "thaw.coming",
                starts=moment(max(warm[0].at, now.now)),
                hours=hours(len(warm)),
                warmest=air(max(hour.air_c for hour in warm)),
            ),
            tuple(why),
            "Glabar Park, Ottawa: close after 7 hours above 0 °C; Quebec towns: 2 days at 0 °C and up need 2 flood days",
        )
    ]


def stretch(now: Situation) -> list[HourAhead] | None:
    """The first run of hours above 0 °C that is long enough; a dip of less than three hours does not end it."""
    runs: list[list[HourAhead]] = []
    for hour in now.within(AHEAD_H):
        if hour.air_c <= 0:
            continue
        if runs and hour.at - runs[-1][-1].at <= 3 * HOUR:
            runs[-1].append(hour)
        else:
            runs.append([hour])
    return next((run for run in runs if len(run) >= now.rules["thaw_hours"]), None)
