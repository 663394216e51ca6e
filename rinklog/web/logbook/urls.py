"""Addresses of the logbook, below /r/<slug>/."""

from django.urls import path

from rinklog.web.logbook import views

urlpatterns = [
    path("log/", views.log, name="log"),
    path("log/flood/coat/", views.coat, name="flood-coat"),
    path("log/<str:kind>/", views.record, name="record"),
    path("entry/<uuid:id>/", views.entry, name="entry"),
]
