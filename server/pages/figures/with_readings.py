"""The figures that may begin from what was read in the viewer's own houses."""

from dataclasses import replace
from functools import partial

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from server.pages.figures import drying, joint
from server.pages.figures.at_work import AtWork
from server.pages.figures.figure import answer
from server.pages.kit import Viewing

router = APIRouter()


@router.get("/figures/joint")
def joint_page(request: Request, viewer: Viewing) -> Response:
    make = partial(joint.make, at_work=AtWork(request, viewer))
    return answer(request, viewer, replace(joint.FIGURE, make=make))


@router.get("/figures/drying")
def drying_page(request: Request, viewer: Viewing) -> Response:
    make = partial(drying.make, at_work=AtWork(request, viewer))
    return answer(request, viewer, replace(drying.FIGURE, make=make))
