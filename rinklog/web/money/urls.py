"""Addresses of the money, below /r/<slug>/."""

from django.urls import path

from rinklog.web.money import views

urlpatterns = [
    path("money/", views.book, name="money"),
    path("money/add/", views.payment_add, name="payment-add"),
    path("money/<uuid:id>/back/", views.payment_back, name="payment-back"),
    path("money/currency/", views.currency, name="currency"),
    path("money/water-price/", views.water_price, name="water-price"),
]
