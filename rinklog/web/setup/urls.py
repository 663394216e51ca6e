"""Addresses of the setup room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.setup import (
    closing,
    first_fill,
    hoses,
    making,
    overview,
    publicity,
    rules,
    seasons,
    survey,
)

urlpatterns = [
    path("setup/", overview.setup, name="setup"),
    path("setup/place/", making.place, name="place"),
    path("setup/grid/", making.grid, name="grid"),
    path("setup/survey/", survey.survey, name="survey"),
    path("setup/survey/table/<int:first_row>/", survey.survey_table, name="survey-table"),
    path("setup/low-spots/", survey.low_spots, name="low-spots"),
    path("setup/hoses/", hoses.hoses, name="hoses"),
    path("setup/hoses/<uuid:id>/remove/", hoses.bucket_test_remove, name="bucket-test-remove"),
    path("setup/phases/", seasons.phases, name="phases"),
    path("setup/phases/<uuid:id>/back/", seasons.phase_back, name="phase-back"),
    path("setup/close/", closing.close, name="close-season"),
    path("setup/next-season/", seasons.next_season, name="next-season"),
    path("setup/first-fill/", first_fill.first_fill, name="first-fill"),
    path("setup/public/", publicity.publicity, name="publicity"),
    path("setup/rules/", rules.rules, name="rules"),
    path("setup/rules/<str:key>/", rules.rule, name="rule"),
    path("setup/rules/<str:key>/default/", rules.rule_default, name="rule-default"),
]
