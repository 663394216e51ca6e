"""Addresses of shared reviews: outside any rink, opened by their token."""

from django.urls import path

from rinklog.web.reports import sharing

urlpatterns = [
    path("season/<str:token>/", sharing.shared_review, name="shared-review"),
    path("season/<str:token>/<str:name>", sharing.shared_file, name="shared-file"),
]
