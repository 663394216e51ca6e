"""Addresses of the reports, below /r/<slug>/."""

from django.urls import path

from rinklog.web.reports import city, review, sharing, sheets, thickness, views

urlpatterns = [
    path("season/", views.season, name="season"),
    path("season/<uuid:id>/", views.season, name="season-past"),
    path("season/city/", city.city, name="city-now"),
    path("season/<uuid:id>/city/", city.city, name="city"),
    path("season/<uuid:id>/city/<slug:table>.csv", city.city_csv, name="city-csv"),
    path("season/review/", review.review, name="review-now"),
    path("season/<uuid:id>/review/", review.review, name="review"),
    path("season/<uuid:id>/review/progress/", review.review_progress, name="review-progress"),
    path("season/<uuid:id>/review/share/", sharing.share, name="review-share"),
    path("season/review/links/<uuid:id>/revoke/", sharing.share_revoke, name="review-share-revoke"),
    path("season/<uuid:id>/review/<slug:table>.csv", review.review_csv, name="review-csv"),
    path("season/<uuid:id>/review/<str:name>", review.review_file, name="review-file"),
    path("season/<uuid:id>/<slug:table>.csv", views.season_csv, name="season-csv"),
    path("records/thickness/", thickness.thickness, name="thickness"),
    path("records/thickness/<slug:month>/", thickness.thickness, name="thickness-month"),
    path("records/sheets/day/", sheets.day_sheet, name="sheet-today"),
    path("records/sheets/day/<slug:day>/", sheets.day_sheet, name="sheet-day"),
    path("records/sheets/month/", sheets.month_sheet, name="sheet-this-month"),
    path("records/sheets/month/<slug:month>/", sheets.month_sheet, name="sheet-month"),
]
