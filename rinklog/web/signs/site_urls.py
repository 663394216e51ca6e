"""The short address that signs carry: the rink is not in it, so that the code stays small and its squares large."""

from django.urls import path

from rinklog.web.signs import scanning

urlpatterns = [path("s/<str:code>/", scanning.scan, name="scan")]
