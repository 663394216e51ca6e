"""Addresses of the logbook, below /r/<slug>/."""

from django.urls import path

from rinklog.web.logbook import entry_views, log_views, paper, views

urlpatterns = [
    path("log/", log_views.log, name="log"),
    path("log/paper.pdf", paper.paper, name="paper-log"),
    path("log/flood/coat/", views.coat, name="flood-coat"),
    path("log/paper/", paper.typing, name="paper"),
    path("log/<str:kind>/", views.record, name="record"),
    path("entry/<uuid:id>/", entry_views.entry, name="entry"),
    path("entry/<uuid:id>/amend/", views.amend, name="amend"),
    path("entry/<uuid:id>/withdraw/", entry_views.withdraw, name="withdraw"),
    path("entry/<uuid:id>/undo/", entry_views.undo, name="undo"),
    path("entry/<uuid:id>/event/<str:what>/", entry_views.event, name="entry-event"),
    path("entry-event/<uuid:id>/undo/", entry_views.undo_event, name="undo-entry-event"),
]
