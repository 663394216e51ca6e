"""Addresses of the records room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.records import accidents, checks, headcounts, hub, opening, words

urlpatterns = [
    path("records/", hub.hub, name="records"),
    path("records/opening/", opening.opening, name="opening"),
    path("records/opening/set/", opening.change, name="opening-set"),
    path("records/opening/<uuid:replaces>/correct/", opening.change, name="opening-correct"),
    path("records/walks/", checks.walks, name="walks"),
    path("records/walks/new/", checks.walk, name="walk"),
    path("records/walks/<uuid:replaces>/correct/", checks.walk, name="walk-correct"),
    path("records/machines/new/", checks.machines, name="machine-check"),
    path("records/inspections/", checks.inspections, name="inspections"),
    path("records/inspections/new/<slug:list>/", checks.inspect, name="inspect"),
    path(
        "records/inspections/<uuid:replaces>/correct/", checks.correct_inspection, name="inspection-correct"
    ),
    path("records/checks/<uuid:id>/", checks.check, name="check"),
    path("records/headcounts/", headcounts.headcounts, name="headcounts"),
    path("records/headcounts/add/", headcounts.add, name="headcount-add"),
    path("records/accidents/", accidents.accidents, name="accidents"),
    path("records/accidents/new/", accidents.report, name="accident-new"),
    path("records/accidents/<uuid:id>/", accidents.accident, name="accident"),
    path("records/accidents/<uuid:id>/receipt/", accidents.receipt, name="accident-receipt"),
    path("records/accidents/<uuid:replaces>/correct/", accidents.report, name="accident-correct"),
    path("records/words/", words.words, name="record-words"),
]
