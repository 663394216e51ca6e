"""Addresses of signs, below /r/<slug>/."""

from django.urls import path

from rinklog.web.signs import scanning, views

urlpatterns = [
    path("signs/", views.listing, name="signs"),
    path("signs/sheets.pdf", views.pdf, name="sign-sheets"),
    path("signs/<uuid:id>/sign.svg", views.drawing, name="sign-drawing"),
    path("signs/<uuid:id>/retire/", views.retire, name="sign-retire"),
    path("spot/<uuid:id>/", scanning.spot, name="spot"),
    path("spot/", scanning.here, name="here"),
    path("signs.json", scanning.codes, name="sign-codes"),
    path("cone/<str:number>/", scanning.cone, name="cone"),
]
