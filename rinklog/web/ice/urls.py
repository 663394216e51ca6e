"""Addresses of the ice room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.ice import views

urlpatterns = [
    path("ice/", views.ice, name="ice"),
    path("ice/holes/<uuid:id>/", views.hole_question, name="hole-question"),
]
