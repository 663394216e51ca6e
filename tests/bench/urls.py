"""Every address of the site, and the bare view."""

from django.urls import path

from rinklog.urls import urlpatterns as site
from tests.bench.against.bare_flood import flood

urlpatterns = [path("bare/", flood), *site]
