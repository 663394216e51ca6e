"""Addresses of the offline room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.offline import views

urlpatterns = [path("waiting/", views.waiting, name="waiting")]
