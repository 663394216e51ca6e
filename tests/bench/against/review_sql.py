"""The tables of a season's review by hand-written SQL: no models, no rounding, no words. Oslo's winter offset."""

import sqlite3

E = "from work_entry e where e.season_id = :s and e.state = 'standing'"
P = "from work_entryperson w join work_entry e on e.id = w.entry_id where e.state = 'standing'"
Z = "from work_entryzone z join work_entry e on e.id = z.entry_id where e.season_id = :s and e.state = 'standing'"
H = "from work_hazardevent v join work_hazard h on h.id = v.hazard_id"
DAY = "date(e.started_at, '+60 minutes')"
WEEK = "date(e.started_at, '+60 minutes', 'weekday 0', '-6 days')"
SQL = (
    f"select {DAY}, kind, count(*), sum(water_m3), min(seen_air_c) {E} group by 1, 2",
    f"select {WEEK}, count(*), sum(water_m3) {E} group by 1",
    f"select kind, count(*), sum(water_m3) {E} group by 1",
    f"select w.person_id, e.kind, {WEEK}, count(*), sum(minutes) {P} and e.season_id = :s group by 1, 2, 3",
    f"select z.zone_id, kind, count(*), sum(water_m3 * z.area_m2 / e.area_m2) {Z} group by 1, 2",
    f"select z.zone_id, count(*) {Z} and z.condition in ('wet', 'thin', 'shell-ice') group by 1",
    f"""select root_id, started_at, water_m3, water_m3 / area_m2, seen_air_c, seen_wind_ms, details->>'by', details->>
        'meter_before_m3', details->>'meter_after_m3', (select max(julianday(v.at)) - julianday(e.started_at) from
        work_entryevent v where v.root_id=e.root_id and v.what='frozen') {E} and kind in ('flood','patch') order by 2""",
    f"""select zone_id, at, condition, last from (select *, max(case when kind = 'flood' then at end) over (partition by
        zone_id order by at, kind rows unbounded preceding) as last from (select z.zone_id, e.ended_at as at, z.condition,
        e.kind {Z} and e.kind in ('flood','inspection'))) where condition<>'' and julianday(at) - julianday(last) < 2""",
    f"""select e.started_at, e.ended_at, e.area_m2, e.details ->> 'snow_depth_m', e.details ->> 'tools',
        (select sum(minutes) from work_entryperson w where w.entry_id = e.id) {E} and kind = 'snow-removal'""",
    f"""select h.number, h.kind, h.severity, h.found_at, v.state, v.cone_out, v.at, lead(v.at)
        over (partition by h.id order by v.at, v.turn) {H} where h.season_id = :s and v.undone_at is null""",
    f"""select h.kind, e.kind, e.details ->> 'method', e.water_m3, v.at, n.state, n.at, s.ends_on, (select sum(minutes)
        from work_entryperson w where w.entry_id = e.id) {H} join work_entry e on e.id = v.entry_id join rink_season s on
        s.id = h.season_id left join work_hazardevent n on n.hazard_id = h.id and n.turn > v.turn where h.rink_id=:r""",
    "select season_id, at, state from records_opening where rink_id = :r order by at",
    """select season_id, count(*), sum(kind = 'flood'), sum(water_m3) from work_entry
        where rink_id = :r and state = 'standing' group by 1""",
    f"select e.season_id, sum(minutes) {P} and e.rink_id = :r group by 1",
    "select season_id, count(*) from work_hazard where rink_id = :r group by 1",
)


def tables(connection: sqlite3.Connection, season: str, rink: str) -> list[list[tuple]]:
    return [connection.execute(sql, {"s": season, "r": rink}).fetchall() for sql in SQL]
