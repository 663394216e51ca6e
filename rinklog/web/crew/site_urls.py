"""Addresses that need no rink: signing in and out, claiming the site, joining a crew, one's own settings."""

from django.urls import path

from rinklog.web.crew import views
from rinklog.web.home.views import front

urlpatterns = [
    path("", front, name="front"),
    path("sign-in/", views.sign_in, name="sign-in"),
    path("sign-out/", views.sign_out, name="sign-out"),
]
