"""Who may open what of the site: the survey, the layouts, the lists, the store, the fences."""

from rinklog.crew.rights import Right
from tests.support.sites import a_fence, a_layout, a_site_task, a_stored_item, a_survey
from tests.web.who_may_row import Row

GROUND = {
    "site-plan": Row(Right.SEE, lambda cast: {} if a_survey(cast) else {}),
    "shopping-csv": Row(Right.SEE, lambda cast: {} if a_survey(cast) else {}),
    "site-depths": Row(Right.KEEP, get=405),
    "site-survey": Row(Right.KEEP),
    "materials": Row(Right.KEEP),
    "layouts": Row(Right.SEE, lambda cast: {} if a_layout(cast) else {}),
    "layout-new": Row(Right.KEEP, lambda cast: {} if a_survey(cast) else {}),
    "layout": Row(Right.KEEP, lambda cast: {"id": a_layout(cast).id}),
    "layout-choose": Row(Right.KEEP, lambda cast: {"id": a_layout(cast).id}, get=405),
    "layout-remove": Row(Right.KEEP, lambda cast: {"id": a_layout(cast).id}, get=405),
    "site-list": Row(Right.SEE, lambda cast: {"name": a_site_task(cast).list}),
    "site-list-begin": Row(Right.RUN_CREW, lambda cast: {"name": "set-up"}, get=405),
    "site-task-new": Row(Right.RUN_CREW, lambda cast: {"name": a_site_task(cast).list}),
    "site-task": Row(Right.RUN_CREW, lambda cast: {"id": a_site_task(cast).id}),
    "site-task-done": Row(Right.LOG, lambda cast: {"id": a_site_task(cast).id}, get=405),
    "site-task-again": Row(Right.LOG, lambda cast: {"id": a_site_task(cast).id}, get=405),
    "site-task-remove": Row(Right.RUN_CREW, lambda cast: {"id": a_site_task(cast).id}, get=405),
    "store": Row(Right.SEE, lambda cast: {} if a_stored_item(cast) else {}),
    "stored-item-new": Row(Right.LOG),
    "stored-item": Row(Right.LOG, lambda cast: {"id": a_stored_item(cast).id}),
    "stored-item-remove": Row(Right.RUN_CREW, lambda cast: {"id": a_stored_item(cast).id}, get=405),
    "fences": Row(Right.SEE, lambda cast: {} if a_fence(cast) else {}),
    "upwind": Row(Right.KEEP),
    "fence-new": Row(Right.KEEP),
    "fence": Row(Right.KEEP, lambda cast: {"id": a_fence(cast).id}),
    "fence-remove": Row(Right.KEEP, lambda cast: {"id": a_fence(cast).id}, get=405),
    "fence-look": Row(Right.LOG, lambda cast: {"id": a_fence(cast).id}, get=405),
}
