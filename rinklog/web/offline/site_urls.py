"""Addresses of the offline room that stand at the root: a service worker answers only for what lies below it."""

from django.urls import path

from rinklog.web.offline import views
from rinklog.web.offline.together import together

urlpatterns = [
    path("sw.js", views.worker, name="service-worker"),
    path("app.webmanifest", views.manifest, name="manifest"),
    path("hello/", views.hello, name="hello"),
    path("together/", together, name="together"),
    path("no-signal/", views.no_signal, name="no-signal"),
]
