"""Addresses of photos, below /r/<slug>/."""

from django.urls import path

from rinklog.web.photos import views

urlpatterns = [
    path("photos/", views.post, name="photo-post"),
    path("photos/<str:subject>/<uuid:subject_id>/", views.strip_of, name="photo-strip"),
    path("photo/<uuid:id>/<str:size>.jpg", views.picture, name="photo"),
    path("photo/<uuid:id>/take-back/", views.take_back, name="photo-take-back"),
]
