"""Addresses of the Tonight room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.tonight import views

urlpatterns = [
    path("tonight/", views.tonight, name="tonight"),
    path("tonight/again/", views.again, name="tonight-again"),
]
