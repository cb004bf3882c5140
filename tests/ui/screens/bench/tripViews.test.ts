/** Trips as they are read in the panel. */
import { describe, expect, it } from "vitest";
import { defaultProject } from "../../../../src/project/defaults";
import { DEFAULT_MONITORS } from "../../../../src/project/presets/monitors";
import type { FromStudy, ToStudy } from "../../../../src/shells/study/protocol";
import type { TripRecord } from "../../../../src/simulation/tripMemory";
import { createTripDiagnosis } from "../../../../src/state/tripDiagnosis";
import type { Diagnosis } from "../../../../src/study/diagnosis";
import { tripViews } from "../../../../src/ui/screens/bench/views/tripViews";

const NBSP = "\u00a0";

const trip: TripRecord = {
  monitorId: "reflectedPower",
  pickupNs: 1.2e9,
  atNs: 1.25e9,
  firstUp: true,
  lockout: false,
  quantity: "outputReflectedW",
  value: 400,
  before: null,
  atPickup: [62, 0.3, 1450, 200, 0.8, 0.06, 3040, 2400, 353.15, 0],
  atTrip: [62, 0.3, 1400, 400, 0.8, 0.07, 3040, 2500, 353.15, 0.5],
};
const diagnosis: Diagnosis = {
  reason: "reflected power rose to 400 W",
  causes: [
    {
      name: "Dust in the gap",
      faults: [
        { fault: "arc", part: "outputContact" },
        { fault: "openLoad", part: "load" },
      ],
      struck: null,
      distance: 0.312,
      severity: 1,
    },
  ],
  none: "",
};

describe("a trip in the panel", () => {
  it("says when, what and by how much, and shows a dash for a second that was not yet", () => {
    const [view] = tripViews([trip], DEFAULT_MONITORS, new Map());
    expect(view?.title).toBe(`Reflected power at 1.25000${NBSP}s: reflected power 400${NBSP}W`);
    expect(view?.likely).toBeNull();
    expect(view?.readings[3]).toEqual({
      name: "Reflected power",
      before: "–",
      atPickup: `200${NBSP}W`,
      atTrip: `400${NBSP}W`,
    });
    expect(view?.readings[8]?.atTrip).toContain("80"); // 353.15 K is 80 degC
  });

  it("names each fault with its part, and gives the reason as a sentence", () => {
    const [view] = tripViews([trip], DEFAULT_MONITORS, new Map([[trip, diagnosis]]));
    expect(view?.likely?.reason).toBe("Reflected power rose to 400 W.");
    expect(view?.likely?.causes[0]?.words).toMatch(/output contact, or antenna lost$/);
    expect(view?.likely?.causes[0]?.distance).toBe("0.31");
  });
});

describe("the question about trips", () => {
  it("starts the worker with the first trip, and takes the answer of the newest question alone", () => {
    const asked: ToStudy[] = [];
    let answer: (message: FromStudy) => void = () => undefined;
    let ports = 0;
    const diagnoses = createTripDiagnosis(() => {
      ports++;
      return {
        post: (message) => asked.push(message),
        listen: (next) => {
          answer = next;
        },
        close: () => undefined,
      };
    });
    const project = defaultProject();
    diagnoses.ask(project, []);
    expect(ports).toBe(0);
    diagnoses.ask(project, [trip]);
    diagnoses.ask(project, [trip]);
    expect([ports, asked.length]).toEqual([1, 2]);
    answer({ kind: "diagnosis", id: 2, diagnoses: [diagnosis] });
    expect(diagnoses.store.getState().of.size).toBe(0);
    answer({ kind: "diagnosis", id: 3, diagnoses: [diagnosis] });
    expect(diagnoses.store.getState().of.get(trip)).toBe(diagnosis);
    answer({ kind: "failed", words: "Studies cannot be worked out here." });
    expect(diagnoses.store.getState().failure).not.toBe("");
  });
});
