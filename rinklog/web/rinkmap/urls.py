"""Addresses of the rinkmap room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.rinkmap import views

urlpatterns = [
    path("map/", views.rink_map, name="map"),
    path("map.geojson", views.geojson, name="map-geojson"),
]
