"""Every address of the site, and the bare view."""

from django.urls import path

from rinklog.urls import urlpatterns as site
from tests.bench.against.bare_flood import flood
from tests.bench.against.hello import hello

urlpatterns = [path("bare/", flood), path("p/hello/world/", hello), *site]
