"""Addresses of the hazards room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.hazards import views

urlpatterns = [
    path("hazards/", views.listing, name="hazards"),
    path("hazards/new/", views.put_up, name="hazard-new"),
    path("hazard/<uuid:id>/", views.hazard, name="hazard"),
    path("hazard/<uuid:id>/say/", views.say, name="hazard-say"),
    path("hazard/<uuid:id>/withdraw/", views.withdraw, name="hazard-withdraw"),
    path("hazard-event/<uuid:id>/undo/", views.undo, name="hazard-undo"),
]
