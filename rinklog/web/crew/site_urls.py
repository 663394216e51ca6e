"""Addresses that need no rink: signing in and out, claiming the site, joining a crew, one's own page."""

from django.urls import path

from rinklog.web.crew import joining, me, views
from rinklog.web.home.look import look
from rinklog.web.home.views import front
from rinklog.web.inbox import calendars, stopping, wishes
from rinklog.web.setup.making import new_rink

urlpatterns = [
    path("", front, name="front"),
    path("sign-in/", views.sign_in, name="sign-in"),
    path("sign-out/", views.sign_out, name="sign-out"),
    path("claim/<str:token>/", joining.claim, name="claim"),
    path("join/", joining.enter_code, name="join"),
    path("join/<str:token>/", joining.join, name="join-link"),
    path("reset/<str:token>/", joining.reset, name="reset"),
    path("rinks/new/", new_rink, name="new-rink"),
    path("me/", me.me, name="me"),
    path("me/look/", look, name="look"),
    path("me/telling/", wishes.telling, name="telling"),
    path("me/telling/devices/", wishes.add_device, name="device-add"),
    path("me/telling/devices/<uuid:id>/remove/", wishes.remove_device, name="device-remove"),
    path("calendar/<str:token>.ics", calendars.feed, name="calendar-feed"),
    path("mail/stop/<str:token>/", stopping.stop, name="mail-stop"),
    path("me/password/", me.password, name="password"),
    path("me/sign-out-everywhere/", me.sign_out_everywhere, name="sign-out-everywhere"),
]
