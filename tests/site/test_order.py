"""What must come before what: against networks that were drawn by hand and the standard library's own sorter."""

import random
from graphlib import CycleError, TopologicalSorter

from rinklog.site.models import SiteTask
from rinklog.site.order import in_order, is_circle
from rinklog.site.usual import LISTS


def test_tasks_follow_what_they_need_and_else_stay_as_written() -> None:
    needs = {"liner": {"boards", "rope"}, "boards": {"stakes"}, "rope": {"boards"}}
    keys = ["permits", "liner", "rope", "boards", "stakes", "signs"]
    assert in_order(keys, needs) == ["permits", "stakes", "boards", "rope", "liner", "signs"]


def test_nothing_is_lost_to_a_circle() -> None:
    assert sorted(in_order(["a", "b", "c"], {"a": {"b"}, "b": {"a"}})) == ["a", "b", "c"]


def test_circles_are_those_that_the_standard_sorter_finds() -> None:
    choose = random.Random(6)
    for _round in range(200):
        needs = {key: {choose.randrange(7) for _ in range(2)} - {key} for key in range(4)}
        try:
            TopologicalSorter(needs).prepare()
        except CycleError:
            continue
        key, wanted = choose.randrange(7), choose.randrange(7)
        changed = {**needs, key: needs.get(key, set()) | {wanted}}
        try:
            TopologicalSorter(changed).prepare()
            theirs = False
        except CycleError:
            theirs = True
        assert is_circle(key, {wanted}, needs) == theirs, (needs, key, wanted)


def test_the_usual_lists_name_what_is_on_them_and_before_it() -> None:
    for name, usual in LISTS.items():
        keys = [one.key for one in usual]
        assert len(set(keys)) == len(keys)
        for place, one in enumerate(usual):
            assert set(one.needs) <= set(keys[:place]), (name, one.key)
    frost = {one.key for one in LISTS[SiteTask.List.SET_UP] if one.when == "before-frost"}
    assert frost == {"stakes", "fence-posts", "posts"}  # what goes into the ground, job.md of the trade
