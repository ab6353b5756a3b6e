"""The shared models, one subject a file; Django finds them here."""

from flueproof.shop.records.models.access import ApiAnswer, ApiToken, Webhook, WebhookDelivery
from flueproof.shop.records.models.analyzer import Analyzer, Cell, Obligation
from flueproof.shop.records.models.blob import Blob
from flueproof.shop.records.models.found_wrong.duty import Duty, DutyAct
from flueproof.shop.records.models.found_wrong.field_log import FieldLog
from flueproof.shop.records.models.found_wrong.reference import RecomputedVisit, ReferenceFinding
from flueproof.shop.records.models.fuel import ShopFuel
from flueproof.shop.records.models.going_back.loans import Loan, LoanUnit
from flueproof.shop.records.models.going_back.money import PriceItem, Quote, QuoteLine
from flueproof.shop.records.models.going_back.shipping import PackOut, SentOn, Shipment
from flueproof.shop.records.models.importing import ColumnMapping, ImportRun
from flueproof.shop.records.models.intake.arrival import Arrival, BoxPhoto, OwnerQuestion, PhoneCall
from flueproof.shop.records.models.intake.request import RequestedAnalyzer, ServiceRequest
from flueproof.shop.records.models.job import Job, JobMoment
from flueproof.shop.records.models.mailing.letter import Letter, LetterTemplate
from flueproof.shop.records.models.mailing.link import AnswerLink
from flueproof.shop.records.models.owner import Owner, OwnerAddress, OwnerContact
from flueproof.shop.records.models.parts.lot import PartLot
from flueproof.shop.records.models.parts.move import StockMove
from flueproof.shop.records.models.parts.part import Part
from flueproof.shop.records.models.person import Person
from flueproof.shop.records.models.promising.clock import ClockEvent, Plan, StepTime
from flueproof.shop.records.models.promising.hours import Closure, DayOff, StationOut, WorkingPattern
from flueproof.shop.records.models.reference import Reference, ReferenceDocument
from flueproof.shop.records.models.search import SearchKey
from flueproof.shop.records.models.shop import Numbering, Shop, Station
from flueproof.shop.records.models.work.gas import GasUse, GaugeReading, SpanCheck
from flueproof.shop.records.models.work.morning import MorningCheck
from flueproof.shop.records.models.work.paper import Paper, PaperFile, PaperMoment
from flueproof.shop.records.models.work.visit import Application, BenchEvent, Reading, Visit

__all__ = [
    "Analyzer",
    "AnswerLink",
    "ApiAnswer",
    "ApiToken",
    "Application",
    "Arrival",
    "BenchEvent",
    "Blob",
    "BoxPhoto",
    "Cell",
    "ClockEvent",
    "Closure",
    "ColumnMapping",
    "DayOff",
    "Duty",
    "DutyAct",
    "FieldLog",
    "GasUse",
    "GaugeReading",
    "ImportRun",
    "Job",
    "JobMoment",
    "Letter",
    "LetterTemplate",
    "Loan",
    "LoanUnit",
    "MorningCheck",
    "Numbering",
    "Obligation",
    "Owner",
    "OwnerAddress",
    "OwnerContact",
    "OwnerQuestion",
    "PackOut",
    "Paper",
    "PaperFile",
    "PaperMoment",
    "Part",
    "PartLot",
    "Person",
    "PhoneCall",
    "Plan",
    "PriceItem",
    "Quote",
    "QuoteLine",
    "Reading",
    "RecomputedVisit",
    "Reference",
    "ReferenceDocument",
    "ReferenceFinding",
    "RequestedAnalyzer",
    "SearchKey",
    "SentOn",
    "ServiceRequest",
    "Shipment",
    "Shop",
    "ShopFuel",
    "SpanCheck",
    "Station",
    "StationOut",
    "StepTime",
    "StockMove",
    "Visit",
    "Webhook",
    "WebhookDelivery",
    "WorkingPattern",
]
