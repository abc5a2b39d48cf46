"""Rules of finger joints that no other kind has."""

from __future__ import annotations

from support.kinds.finger_joint import finger_job
from support.rule_cases.case import Case, Findings, Say, case, said

from jigcam.job import Board, Job
from jigcam.joints.finger_joint import FingerJointEntry, finger_joint


def drawn(width: float = 60.0, thin: float = 12.0, other: float | None = None, **keys: object) -> Say:
    """What the trade says of a finger joint. other: width of the second board where it differs."""

    def findings() -> Findings:
        table = finger_job(width, thin, **keys)
        entry = FingerJointEntry(**table["joints"][0])
        boards = {name: Board(name=name, **sizes) for name, sizes in table["boards"].items()}
        if other is not None:
            boards["end"] = boards["end"].model_copy(update={"width": other})
        job = Job(title="Sheet-music cabinet", units="mm", boards=boards, joints=(entry,))
        return finger_joint(entry, job).findings

    return said(findings)


def planned(**keys: object) -> Say:
    """What its plan with the metric shop says."""

    def findings() -> Findings:
        from jigcam.joints.finger_joint.plan import plan_fingers
        from jigcam.kit import load_kit

        table = finger_job(**keys)
        entry = FingerJointEntry(**table["joints"][0])
        boards = {name: Board(name=name, **sizes) for name, sizes in table["boards"].items()}
        job = Job(title="Sheet-music cabinet", units="mm", boards=boards, joints=(entry,))
        return plan_fingers(finger_joint(entry, job), entry, job, load_kit("metric-shop")).findings

    return said(findings)


FINGERS: dict[str, Case] = {
    "finger-ends": case(drawn(b_end="right"), silent=drawn()),
    "finger-widths": case(drawn(other=60.1), silent=drawn(other=60.04)),
    "finger-alone": case(drawn(count=None, finger=60.0), silent=drawn(count=None, finger=30.0)),
    "finger-thin": case(drawn(count=None, finger=19.5), silent=drawn(count=None, finger=19.3)),
    "finger-last": case(drawn(count=None, finger=13.4), silent=drawn(count=None, finger=13.3)),
    "finger-width": case(drawn(count=11), silent=drawn(count=10)),
    "finger-even": case(drawn(count=6), silent=drawn(count=5)),
    "finger-clearance": case(drawn(clearance=0.13), silent=drawn(clearance=0.12)),
    "finger-long": case(drawn(thin=5.9), silent=drawn(thin=6.0)),
    "finger-vise": case(planned(gang=4), silent=planned(gang=2)),
}
