"""Addresses of the site, below /r/<slug>/."""

from django.urls import path

from rinklog.web.site import layouts, plan, surveying

urlpatterns = [
    path("setup/site/", plan.site, name="site-plan"),
    path("setup/site/shopping.csv", plan.shopping, name="shopping-csv"),
    path("setup/site/depths/", plan.depths, name="site-depths"),
    path("setup/site/survey/", surveying.survey, name="site-survey"),
    path("setup/site/materials/", surveying.materials, name="materials"),
    path("setup/site/layouts/", layouts.compare, name="layouts"),
    path("setup/site/layouts/new/", layouts.new, name="layout-new"),
    path("setup/site/layouts/<uuid:id>/", layouts.change, name="layout"),
    path("setup/site/layouts/<uuid:id>/choose/", layouts.choose, name="layout-choose"),
    path("setup/site/layouts/<uuid:id>/remove/", layouts.remove, name="layout-remove"),
]
