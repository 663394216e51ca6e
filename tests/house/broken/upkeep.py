"""The site itself: queue, claims, keys, certificates, bootstrap."""

from tests.house.broken import Breakage

ROWS = [
    Breakage(
        "rinklog/upkeep/services.py",
        "return used == 1",
        "return True",
        "tests/upkeep/test_claims.py::test_a_claim_works_once",
    ),
    Breakage(
        "rinklog/upkeep/services.py",
        "Claim.objects.filter(used_at=None).delete()",
        "pass",
        "tests/upkeep/test_claims.py::test_a_new_claim_ends_the_earlier_one_but_keeps_the_trace_of_a_used_one",
    ),
    Breakage(
        "rinklog/upkeep/queries.py",
        "HEART_STOPS_AFTER = timedelta(seconds=75)",
        "HEART_STOPS_AFTER = timedelta(hours=75)",
        "tests/upkeep/test_claims.py::test_a_heart_that_beat_lately_beats",
    ),
    Breakage(
        "rinklog/upkeep/folder_queue.py",
        "        draft.rename(place)\n",
        "        place.write_text(draft.read_text()[:3])\n",
        "tests/upkeep/test_folder_queue.py::test_messages_come_out_in_order_and_go_when_they_are_done",
    ),
    Breakage(
        "rinklog/upkeep/folder_queue.py",
        'message.rename(folder / "tasks" / message.name)',
        "message.unlink()",
        "tests/upkeep/test_folder_queue.py::test_a_worker_that_died_leaves_its_message_to_the_next",
    ),
    Breakage(
        "rinklog/upkeep/queue.py",
        "transaction.on_commit(partial(_queue, task, [str(one) for one in ids]))",
        "_queue(task, [str(one) for one in ids])",
        "tests/upkeep/test_queue.py::test_a_task_is_queued_after_the_commit_and_a_row_taken_back_queues_nothing",
    ),
    Breakage(
        "rinklog/upkeep/queue.py",
        "_Pause.ends = time.monotonic() + PAUSE_S",
        "pass",
        "tests/upkeep/test_queue.py::test_after_a_broker_made_one_post_wait_the_next_ones_do_not",
    ),
    Breakage(
        "rinklog/celery.py",
        '        "max_retries": 1,\n        "interval_start": 0,\n',
        "",
        "tests/upkeep/test_queue.py::test_a_dead_broker_costs_a_post_no_time_and_no_error",
    ),
    Breakage(
        "rinklog/photos/tasks.py",
        "soon(prepare_photo, photo_id)",
        "prepare_photo.delay(str(photo_id))",
        "tests/house/test_rules.py::test_one_place_puts_tasks_on_the_queue",
    ),
    Breakage(
        "rinklog/site_key.py",
        "        if production:\n",
        "        if not production:\n",
        "tests/console/test_secret_key.py::test_production_never_invents_one",
    ),
    Breakage(
        "rinklog/console/certificate.py",
        " and named >= {*names, *addresses}",
        "",
        "tests/console/test_certificate.py::test_a_new_address_makes_it_anew_and_a_lost_one_does_not",
    ),
    Breakage(
        "rinklog/console/supervisor.py",
        "child.pause_s = min(child.pause_s * 2, LONGEST_PAUSE_S)",
        "pass",
        "tests/console/test_supervisor.py::test_a_child_that_keeps_failing_is_started_again_with_growing_pauses",
    ),
    Breakage(
        "rinklog/bootstrap.py",
        "if sys.version_info < OLDEST:",
        "if sys.version_info < (3, 0):",
        "tests/console/test_bootstrap.py::test_an_old_python_is_one_sentence",
    ),
    Breakage(
        "rinklog/console/certificate.py",
        "and named >= {*names, *addresses}",
        "",
        "tests/console/test_certificate.py::test_a_new_address_makes_it_anew_and_a_lost_one_does_not",
    ),
]
