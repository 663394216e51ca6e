"""Addresses of what is owed to others, below /r/<slug>/."""

from django.urls import path

from rinklog.web.owed import deadlines, loans

urlpatterns = [
    path("records/loans/", loans.loans, name="loans"),
    path("records/loans/add/", loans.add, name="loan-add"),
    path("records/loans/<uuid:id>/happened/", loans.happened, name="loan-happened"),
    path("records/dates/", deadlines.deadlines, name="deadlines"),
    path("records/dates/add/", deadlines.add, name="deadline-add"),
    path("records/dates/<uuid:id>/end/", deadlines.end, name="deadline-end"),
]
