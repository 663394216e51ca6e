"""Addresses of the crew room, below /r/<slug>/."""

from django.urls import path

from rinklog.web.crew import people

urlpatterns = [
    path("crew/", people.crew, name="crew"),
    path("crew/invite/", people.invite, name="invite"),
    path("crew/invitation/<uuid:id>/", people.invitation, name="invitation"),
    path("crew/invitation/<uuid:id>/withdraw/", people.withdraw, name="invitation-withdraw"),
    path("crew/leave/", people.leave, name="leave"),
    path("crew/<uuid:id>/", people.member, name="member"),
    path("crew/<uuid:id>/remove/", people.remove, name="member-remove"),
    path("crew/<uuid:id>/new-password/", people.make_reset, name="member-reset"),
]
