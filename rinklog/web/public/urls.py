"""Addresses of the public room, below /p/<slug>/: no session, no cookie, no person."""

from django.urls import path

from rinklog.web.public import views

urlpatterns = [
    path("", views.rink, name="public"),
]
