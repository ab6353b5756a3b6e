"""The shared models, one subject a file; Django finds them here."""

from flueproof.shop.records.models.access import ApiAnswer, ApiToken, Webhook, WebhookDelivery
from flueproof.shop.records.models.analyzer import Analyzer, Cell, Obligation
from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.importing import ColumnMapping, ImportRun
from flueproof.shop.records.models.job import Job, JobMoment
from flueproof.shop.records.models.owner import Owner, OwnerAddress, OwnerContact
from flueproof.shop.records.models.person import Person
from flueproof.shop.records.models.reference import Reference, ReferenceDocument
from flueproof.shop.records.models.search import SearchKey
from flueproof.shop.records.models.shop import Numbering, Shop, Station
from flueproof.shop.records.models.work.gas import GasUse, GaugeReading, SpanCheck
from flueproof.shop.records.models.work.morning import MorningCheck
from flueproof.shop.records.models.work.paper import Paper, PaperFile, PaperMoment
from flueproof.shop.records.models.work.visit import Application, BenchEvent, Reading, Visit

__all__ = [
    "Analyzer",
    "ApiAnswer",
    "ApiToken",
    "Application",
    "BenchEvent",
    "Blob",
    "Cell",
    "ColumnMapping",
    "GasUse",
    "GaugeReading",
    "ImportRun",
    "Job",
    "JobMoment",
    "MorningCheck",
    "Numbering",
    "Obligation",
    "Owner",
    "OwnerAddress",
    "OwnerContact",
    "Paper",
    "PaperFile",
    "PaperMoment",
    "Person",
    "Reading",
    "Reference",
    "ReferenceDocument",
    "SearchKey",
    "Shop",
    "SpanCheck",
    "Station",
    "Visit",
    "Webhook",
    "WebhookDelivery",
]
