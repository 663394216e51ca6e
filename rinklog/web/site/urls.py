"""Addresses of the site, below /r/<slug>/."""

from django.urls import path

from rinklog.web.site import fences, layouts, lists, plan, store, surveying

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
    path("setup/list/<str:name>/", lists.site_list, name="site-list"),
    path("setup/list/<str:name>/begin/", lists.begin, name="site-list-begin"),
    path("setup/list/<str:name>/new/", lists.new, name="site-task-new"),
    path("setup/task/<uuid:id>/", lists.change, name="site-task"),
    path("setup/task/<uuid:id>/done/", lists.done, name="site-task-done"),
    path("setup/task/<uuid:id>/again/", lists.reopen, name="site-task-again"),
    path("setup/task/<uuid:id>/remove/", lists.remove, name="site-task-remove"),
    path("setup/store/", store.whole, name="store"),
    path("setup/store/new/", store.new, name="stored-item-new"),
    path("setup/store/<uuid:id>/", store.change, name="stored-item"),
    path("setup/store/<uuid:id>/remove/", store.remove, name="stored-item-remove"),
    path("setup/fences/", fences.fences, name="fences"),
    path("setup/fences/upwind/", fences.upwind, name="upwind"),
    path("setup/fences/new/", fences.new, name="fence-new"),
    path("setup/fences/<uuid:id>/", fences.change, name="fence"),
    path("setup/fences/<uuid:id>/remove/", fences.remove, name="fence-remove"),
    path("setup/fences/<uuid:id>/look/", fences.look, name="fence-look"),
]
