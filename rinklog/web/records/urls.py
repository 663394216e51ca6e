"""Addresses of the records room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.records import hub, opening

urlpatterns = [
    path("records/", hub.hub, name="records"),
    path("records/opening/", opening.opening, name="opening"),
    path("records/opening/set/", opening.change, name="opening-set"),
    path("records/opening/<uuid:replaces>/correct/", opening.change, name="opening-correct"),
]
