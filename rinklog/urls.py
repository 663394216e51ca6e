"""Every address of the site, by room."""

from django.urls import include, path

from rinklog.web.crew import views as crew
from rinklog.web.health import health
from rinklog.web.home.views import front

handler400 = "rinklog.web.errors.bad_request"
handler404 = "rinklog.web.errors.not_found"
handler500 = "rinklog.web.errors.server_error"

on_a_rink = [
    path("", include("rinklog.web.home.urls")),
    path("", include("rinklog.web.logbook.urls")),
    path("", include("rinklog.web.reports.urls")),
]

urlpatterns = [
    path("", front, name="front"),
    path("health", health, name="health"),
    path("sign-in/", crew.sign_in, name="sign-in"),
    path("sign-out/", crew.sign_out, name="sign-out"),
    path("r/<slug:slug>/", include(on_a_rink)),
]
