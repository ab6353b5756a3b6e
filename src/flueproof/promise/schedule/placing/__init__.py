"""Steps put where people, stations and hours leave room for them."""
