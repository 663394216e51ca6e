"""Rules of the house that no general checker knows: time, the one gate, HTTP, signals."""

import ast
import re

from tests.house.files import files, text, tree

ASKING_THE_TIME = {"now", "today", "utcnow", "localdate", "localtime"}
# Only the doors ask what time it is.
DOORS = ("rinklog/web/", "rinklog/console/", "/tasks.py", "/management/", "rinklog/celery.py")
INSIDE = [name for name in files(".py", "rinklog") if not any(door in name for door in DOORS)]
DOMAIN = ("rink", "crew", "work", "photos", "records", "reports", "upkeep", "weather", "ice", "plan", "site")


def test_only_views_tasks_and_commands_ask_what_time_it_is() -> None:
    asked = {
        f"{name}:{node.lineno}"
        for name in INSIDE
        for node in ast.walk(tree(name))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in ASKING_THE_TIME
        and isinstance(node.func.value, ast.Name | ast.Attribute)
        and re.search(r"(datetime|date|timezone|dt|time)$", ast.unparse(node.func.value))
    }
    assert asked == set()


def test_no_clock_is_a_default_of_a_field() -> None:
    models = [name for name in files(".py", "rinklog") if name.endswith("models.py") or "/models/" in name]
    assert [name for name in models if re.search(r"auto_now|timezone\.now|Now\(\)", text(name))] == []


def test_views_get_every_object_through_the_one_gate() -> None:
    web = files(".py", "rinklog/web", without=("rinklog/web/access.py",))
    pattern = re.compile(r"\.objects\b|get_object_or_404|get_list_or_404")
    assert [name for name in web if pattern.search(text(name))] == []


def test_domain_apps_know_nothing_of_http() -> None:
    inside = files(".py", *(f"rinklog/{app}" for app in DOMAIN))
    pattern = re.compile(r"django\.(http|shortcuts|urls|views)|\brequest\b:")
    assert [name for name in inside if pattern.search(text(name))] == []


def test_nothing_happens_behind_a_models_back() -> None:
    inside = files(".py", *(f"rinklog/{app}" for app in DOMAIN))
    pattern = re.compile(
        r"django\.(db\.models|dispatch)(\.signals)? import .*(receiver|post_save|pre_save)|def save\("
    )
    assert [name for name in inside if pattern.search(text(name))] == []


def test_services_take_their_arguments_by_name() -> None:
    services = [
        name for name in files(".py", "rinklog") if name.endswith("/services.py") or "/services/" in name
    ]
    positional = {
        f"{name}:{node.lineno} {node.name}"
        for name in services
        for node in tree(name).body
        if isinstance(node, ast.FunctionDef) and writes(node) and len(node.args.args) > 0
    }
    assert positional == set()


def writes(node: ast.FunctionDef) -> bool:
    """Whether a public function is told who or when: then it writes."""
    names = {argument.arg for argument in [*node.args.args, *node.args.kwonlyargs]}
    return not node.name.startswith("_") and bool(names & {"by", "now"})


def test_nothing_calls_the_ice_safe() -> None:
    claim = re.compile(
        r"\b(ice|it|rink|surface) (is|are|looks) (now )?safe\b|\bsafe (ice|to skate)\b", re.IGNORECASE
    )
    shown = [*files(".html", "templates"), *files(".py", "rinklog"), *files(".md"), *files(".js", "static")]
    denial = re.compile(r"\bno ice is safe ice\b", re.IGNORECASE)
    assert [name for name in shown if claim.search(denial.sub("", text(name)))] == []


def test_one_place_puts_tasks_on_the_queue() -> None:
    """After the commit, and never at a request's expense: upkeep/queue.py knows how."""
    elsewhere = files(".py", "rinklog", without=("rinklog/upkeep/queue.py",))
    pattern = re.compile(r"\.(delay|apply_async|send_task)\(")
    assert [name for name in elsewhere if pattern.search(text(name))] == []
