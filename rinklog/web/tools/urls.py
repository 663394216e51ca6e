"""Addresses of the set-up calculators, below /r/<slug>/."""

from django.urls import path

from rinklog.web.tools import views

urlpatterns = [
    path("tools/", views.tools, name="tools"),
    path("tools/<slug:group>/", views.tool_group, name="tool-group"),
]
