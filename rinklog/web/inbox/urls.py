"""Addresses of the inbox, below /r/<slug>/."""

from django.urls import path

from rinklog.web.inbox import calendars, views, wishes

urlpatterns = [
    path("inbox/", views.inbox, name="inbox"),
    path("inbox/read/", views.read_all, name="inbox-read"),
    path("calendar/", calendars.calendars, name="calendars"),
    path("calendar/make/", calendars.make, name="calendar-make"),
    path("calendar/close/", calendars.revoke, name="calendar-revoke"),
    path("inbox/trial/", wishes.trial, name="trial"),
    path("inbox/<uuid:id>/", views.open_message, name="inbox-open"),
]
