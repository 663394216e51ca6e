"""Every address of the site, by room."""

from django.urls import include, path

from rinklog.web.health import health

handler400 = "rinklog.web.errors.bad_request"
handler404 = "rinklog.web.errors.not_found"
handler500 = "rinklog.web.errors.server_error"

ROOMS = (
    "home",
    "tonight",
    "inbox",
    "rinkmap",
    "ice",
    "hazards",
    "photos",
    "plan",
    "records",
    "reports",
    "money",
    "owed",
    "setup",
    "site",
    "crew",
    "archive",
    "tools",
    "weather",
    "weather_in",
    "logbook",
    "offline",
    "signs",
)

on_a_rink = [path("", include(f"rinklog.web.{room}.urls")) for room in ROOMS]

urlpatterns = [
    path("health", health, name="health"),
    path("", include("rinklog.web.crew.site_urls")),
    path("shared/", include("rinklog.web.reports.shared_urls")),
    path("p/<slug:slug>/", include("rinklog.web.public.urls")),
    path("", include("rinklog.web.offline.site_urls")),
    path("", include("rinklog.web.signs.site_urls")),
    path("r/<slug:slug>/", include(on_a_rink)),
]
