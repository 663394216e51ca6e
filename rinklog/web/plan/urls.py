"""Addresses of the plan room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.plan import board, making, recurring, roster_views, runs, shift_views

urlpatterns = [
    path("recurring/", recurring.recurring, name="recurring"),
    path("recurring/new/", recurring.new, name="recurring-new"),
    path("recurring/<uuid:id>/", recurring.change, name="recurring-change"),
    path("recurring/<uuid:id>/end/", recurring.end, name="recurring-end"),
    path("runs/", runs.runs, name="runs"),
    path("runs/<int:id>/again/", runs.run_again, name="run-again"),
    path("shifts/", shift_views.shifts, name="shifts"),
    path("shifts/board/", board.board_page, name="shift-board"),
    path("shifts/roster/", roster_views.proposal, name="roster"),
    path("shifts/roster/accept/", roster_views.accept, name="roster-accept"),
    path("shifts/window/<str:window>/", making.from_window, name="shift-from-window"),
    path("shifts/new/", making.new, name="shift-new"),
    path("shifts/<uuid:id>/", shift_views.shift, name="shift"),
    path("shifts/<uuid:id>/take/", shift_views.take, name="shift-take"),
    path("shifts/<uuid:id>/assign/", board.assign, name="shift-assign"),
    path("shifts/<uuid:id>/move/", making.move, name="shift-move"),
    path("shifts/<uuid:id>/call-off/", making.call_off, name="shift-call-off"),
    path("shifts/<uuid:id>/keep/", making.keep, name="shift-keep"),
    path("shifts/<uuid:id>/alone/", making.allow_alone, name="shift-alone"),
    path("shift-place/<uuid:id>/leave/", shift_views.leave, name="place-leave"),
    path("shift-place/<uuid:id>/offer/", shift_views.offer, name="place-offer"),
    path("shift-place/<uuid:id>/answer/", shift_views.answer, name="place-answer"),
]
