"""Addresses of this page."""

from __future__ import annotations

from django.urls import path

from flueproof.shop.papers.views import amending, files, listing, own, paper, pictures, printing, signing, verifying

app_name = "papers"
urlpatterns = [
    path("", listing.paper_list, name="list"),
    path("own/", own.own_papers, name="own"),
    path("sign/<str:number>/", signing.sign, name="sign"),
    path("sign/<str:number>/take-over", signing.take_over_files, name="take-over"),
    path("sign/<str:number>/pictures", pictures.pictures_to_sign, name="sign-pictures"),
    path("sign/<str:number>/pictures/<str:name>.png", pictures.picture_to_sign, name="sign-picture"),
    path("<str:number>/", paper.paper, name="paper"),
    path("<str:number>/files/<str:name>", files.file, name="file"),
    path("<str:number>/verify", verifying.verify, name="verify"),
    path("<str:number>/print/<str:name>", printing.reprint, name="reprint"),
    path("<str:number>/amend/", amending.amend, name="amend"),
    path("<str:number>/amend/pictures", pictures.pictures_to_amend, name="amend-pictures"),
    path("<str:number>/amend/pictures/<str:name>.png", pictures.picture_to_amend, name="amend-picture"),
]
