"""Addresses of the archive room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.archive import views

urlpatterns = [
    path("archive/", views.archive, name="archive"),
    path("archive/log.csv", views.log_csv_file, name="log-csv"),
    path("archive/import/", views.import_post, name="import-post"),
    path("archive/import/<uuid:id>/", views.import_page, name="import"),
    path("archive/import/<uuid:id>/problems.csv", views.import_problems, name="import-problems"),
    path("archive/import/<uuid:id>/who/", views.import_who, name="import-who"),
    path("archive/import/<uuid:id>/start/", views.import_start, name="import-start"),
    path("archive/backup/", views.backup_make, name="backup-make"),
    path("archive/backup/<str:name>", views.backup, name="backup"),
]
