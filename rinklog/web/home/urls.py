"""Addresses of the home page, below /r/<slug>/."""

from django.urls import path

from rinklog.web.home import views

urlpatterns = [
    path("", views.home, name="home"),
    path("more/", views.more, name="more"),
]
