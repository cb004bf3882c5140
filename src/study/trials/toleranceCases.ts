/**
 * The cases of a tolerance study: what is drawn, how it is run, how it is shown on the bench.
 *
 * The station stands under full carrier when the fault comes; scenario and signal of the project are not played. An arc that
 * keeps one voltage is run by `toleranceRun`; everything else on the bench itself by `runCase`, which takes some hundred
 * times as long.
 */
import { METALS } from "../../physics/heat/metals";
import { createPlateEdge, type PlateEdge } from "../../physics/heat/plateEdge";
import { arcPlaceOf } from "../../project/arcPlaceOf";
import type { Condition, MonitorDef, QuantityName } from "../../project/protection";
import type { PartName } from "../../project/scenario";
import type { ErosionEdge, MetalName, Station } from "../../project/station";
import type { Project } from "../../project/types";
import { type Bench, createBench } from "../../simulation/bench";
import { expectedForwardGain } from "../../simulation/expectedGain";
import { expectedGainFrom } from "../../simulation/gainTable";
import { caseSteps, WARMING_SPAN_NS } from "./runCase";
import type { Steps } from "./steps";
import { drawCase, drawnBy, drawSobolCase } from "./toleranceInputs";
import { type ArcHeat, OnsetSolver } from "./toleranceOnset";
import type { ToleranceOptions } from "./toleranceOptions";
import { type ArcFault, ShortRun } from "./toleranceRun";
import { type Unit, unitOf } from "./toleranceUnit";
import type { BenchMoment } from "./trial";

/** What became of one unit. Seconds from the fault's time zero; null for what has not happened. */
export interface ToleranceOutcome {
  /** What was drawn, in the order of the summary's inputs. */
  readonly values: readonly number[];
  /** The unit finds no working point at full drive; nothing else is known of it. */
  readonly isDead: boolean;
  /** Ids of the acting monitors that would trip on the healthy unit's steady readings: it never stays on the air. */
  readonly healthyTrips: readonly string[];
  /** Whether the fault became electrical. */
  readonly struck: boolean;
  /** Monitor that tripped first. */
  readonly first: string | null;
  readonly operateS: number | null;
  readonly clearingS: number | null;
  /**
   * When protection had ended it: clearing, but not before the first actuator acted. A fault may take the output away by itself.
   */
  readonly endedS: number | null;
  /** Some part would still be damaged after that, if all stayed as it then was. */
  readonly heatsOn: boolean;
  /**
   * Onset of melting, or the end of a clock, with nobody acting: by this case's estimates and by the early edge of the project's;
   * null where there is none while that is followed.
   */
  readonly onsetS: number | null;
  readonly onsetEarlyS: number | null;
  /** How long nobody acting was followed without an onset; as long as anything is, where there would never be one. */
  readonly unharmedS: number | null;
  /** Onset over the time protection took to end it; null where either is missing. */
  readonly margin: number | null;
  readonly marginEarly: number | null;
}

/** Key down at 0; by now everything has settled and monitors are armed. */
const SETTLED_NS = 120_000_000;
/** An arc with nobody acting is followed this long, as everywhere. */
const FOLLOWED_S = 10;
/** Parts that only get warm are followed longest. */
const LONGEST_S = WARMING_SPAN_NS / 1e9;
/** A run that is not cleared is followed as long as this, or up to the onset, */
const FOLLOW_S = 0.05;
/** but no longer than this. */
const FOLLOW_AT_MOST_S = 0.5;

/** A bench of the station as designed that is settled under full carrier. */
export function settledBench(
  project: Project,
): { readonly ok: true; readonly bench: Bench } | { readonly ok: false; readonly problem: string } {
  const created = createBench({ ...project, scenario: [{ atS: 0, do: "key", down: true }] });
  if (!created.ok) return created;
  const { bench } = created;
  bench.advanceTo(SETTLED_NS);
  const trip = bench.events.find((e) => e.kind === "protection" && e.event.kind === "trip");
  if (trip?.kind === "protection") {
    const name = project.monitors.find((m) => m.id === trip.event.monitorId)?.name;
    return {
      ok: false,
      problem: `The station as designed does not stay on the air at full drive: ${name} trips after ${(trip.atNs / 1e6).toFixed(0)} ms. Set it right first.`,
    };
  }
  return { ok: true, bench };
}

/** One case ready to run. */
interface Drawn {
  readonly values: readonly number[];
  readonly unit: Unit;
  readonly fault: ArcFault;
  readonly strikeNs: number;
}

export class ToleranceCases {
  private readonly short: ShortRun;
  private readonly onset = new OnsetSolver();
  /** Of the part the arc burns on; null where no arc that keeps one voltage is to be run. */
  private readonly edge: PlateEdge | null;
  private readonly longestScanNs: number;

  constructor(
    private readonly nominal: Bench,
    private readonly options: ToleranceOptions,
    private readonly seed: number,
  ) {
    const { project } = nominal;
    this.short = new ShortRun(nominal);
    this.edge = edgeOf(project, options);
    const acting = project.monitors.filter((m) => m.role === "acting" && m.path === "scanned");
    this.longestScanNs = Math.max(...acting.map((m) => m.scanS * 1e9), project.sampleNs);
  }

  /** A short run has no pause. */
  *steps(index: number): Steps<ToleranceOutcome> {
    const drawn = this.draw(index);
    return this.edge === null ? yield* this.runOnBench(drawn) : this.runShort(drawn, this.edge);
  }

  /** The case as a project the bench opens, at the instant of the fault. */
  open(index: number): BenchMoment {
    const drawn = this.draw(index);
    return { project: this.benchProject(drawn), atNs: drawn.strikeNs };
  }

  private draw(index: number): Drawn {
    const { inputs, sobol, fault } = this.options;
    const values = sobol
      ? drawSobolCase(inputs, this.seed, index)
      : drawCase(inputs, this.seed, index);
    const v = drawnBy(inputs, values);
    return {
      values,
      unit: unitOf(this.nominal.project, this.nominal.parts, v),
      // a forced arc's severity is the voltage it keeps
      fault:
        fault.fault === "arc" ? { ...fault, severity: fault.severity * v("maintaining") } : fault,
      strikeNs: SETTLED_NS + Math.floor(v("scanPhase") * this.longestScanNs),
    };
  }

  private runShort({ values, unit, fault, strikeNs }: Drawn, edge: PlateEdge): ToleranceOutcome {
    const { short } = this;
    const first = short.run(unit, fault, strikeNs, FOLLOW_S * 1e9);
    const { heat, struck } = first;
    const { nominal, early } = unit.project.station.erosion;
    const onsetS = heat === null ? null : this.onsetS(unit, edge, nominal, heat);
    const onsetEarlyS = heat === null ? null : this.onsetS(unit, edge, early, heat);
    const isLate = struck && first.clearingS === null && onsetS !== null && onsetS > FOLLOW_S;
    const ran = isLate
      ? short.run(unit, fault, strikeNs, Math.min(onsetS, FOLLOW_AT_MOST_S) * 1e9)
      : first;
    return {
      values,
      isDead: ran.isDead,
      healthyTrips: ran.healthyTrips,
      struck,
      first: ran.first,
      operateS: ran.operateS,
      clearingS: ran.clearingS,
      // here nothing but an actuator clears, and an arc is all that heats
      endedS: ran.clearingS,
      heatsOn: false,
      onsetS,
      onsetEarlyS,
      unharmedS: struck && onsetS === null ? FOLLOWED_S : null,
      margin: over(onsetS, ran.clearingS),
      marginEarly: over(onsetEarlyS, ran.clearingS),
    };
  }

  private *runOnBench(drawn: Drawn): Steps<ToleranceOutcome> {
    const { values, unit } = drawn;
    const healthyTrips = this.short.healthyTrips(unit);
    const ran =
      healthyTrips === null ? null : yield* caseSteps(this.benchProject(drawn), unit.project.seed);
    return {
      values,
      isDead: healthyTrips === null,
      healthyTrips: healthyTrips ?? [],
      struck: ran !== null && ran.zero !== null,
      first: ran?.firstTrip?.id ?? null,
      operateS: ran?.operateS ?? null,
      clearingS: ran?.clearingS ?? null,
      endedS: ran?.endedS ?? null,
      heatsOn: ran !== null && ran.heatsOn !== null,
      onsetS: ran?.weakest?.damageS ?? null,
      onsetEarlyS: ran?.weakest?.damageEarlyS ?? null,
      unharmedS: ran === null || ran.weakest !== null ? null : (ran.unharmedS ?? LONGEST_S),
      margin: ran?.weakestMargin ?? null,
      marginEarly: ran?.weakestMarginEarly ?? null,
    };
  }

  private onsetS(unit: Unit, edge: PlateEdge, estimate: ErosionEdge, heat: ArcHeat): number | null {
    const { station } = unit.project;
    const thickness = electrode(station, this.options.fault.part).thicknessM / edge.def.thicknessM;
    return this.onset.onsetS(edge, thickness, station.erosion.startK, estimate, heat, FOLLOWED_S);
  }

  private benchProject({ unit, fault, strikeNs }: Drawn): Project {
    const { project } = unit;
    const atS = strikeNs / 1e9;
    return {
      ...project,
      title: `${project.title}: one unit`,
      endS: atS + 1,
      monitors: withFirmwareTable(this.nominal, unit),
      scenario: [
        { atS: 0, do: "key", down: true },
        { atS, do: "placeFault", ...fault },
      ],
    };
  }
}

/**
 * The bench expects of every station the gain that station has when it is tuned and matched; a unit's firmware expects that of the
 * station as designed. At the drive in use both compare alike once the levels are moved by the difference.
 */
function withFirmwareTable(nominal: Bench, { project, parts }: Unit): readonly MonitorDef[] {
  const { gainError, offset } = project.sensors.driveForwardW;
  const driveW = project.station.exciter.availableW * (1 + gainError) + offset;
  const firmwareDb = nominal.system.context.expectedForwardGainDb(driveW);
  const byDb = firmwareDb - expectedGainFrom(expectedForwardGain(parts))(driveW);
  const isMoved = ({ quantity }: { readonly quantity: QuantityName }): boolean =>
    quantity === "gainDeviationDb" && Number.isFinite(byDb);
  const level = <T extends Condition>(c: T): T =>
    isMoved(c) ? { ...c, level: c.level + byDb } : c;
  return project.monitors.map((m) => ({
    ...m,
    arming: { ...m.arming, when: m.arming.when.map(level) },
    criteria: m.criteria.map((c) => {
      const when = c.when.map(level);
      if (!isMoved(c)) return { ...c, when };
      const { pickup, dropOff, tunePickup } = c;
      const tune = tunePickup === undefined ? {} : { tunePickup: tunePickup + byDb };
      return { ...c, when, pickup: pickup + byDb, dropOff: dropOff + byDb, ...tune };
    }),
    alarm: m.alarm === null ? null : level(m.alarm),
  }));
}

/** The edge an arc of this fault melts; null where `toleranceRun` does not follow it. */
function edgeOf(
  { station }: Project,
  { fault: { fault, part } }: ToleranceOptions,
): PlateEdge | null {
  const place = arcPlaceOf(part);
  const isGap = fault === "insect" || fault === "dust" || fault === "arc";
  if (place === null || !isGap) return null;
  const { arcVoltage, moltenEdgeLowers, strikeSpread } = station.airGaps;
  const keepsOneVoltage = (fault === "arc" || arcVoltage[place] === "value") && !moltenEdgeLowers;
  if (!keepsOneVoltage || strikeSpread > 0 || station.exciter.alc.kind !== "none") return null;
  const { metal, thicknessM } = electrode(station, part);
  return createPlateEdge({
    thicknessM,
    metal: METALS[metal],
    startK: station.erosion.startK,
    ...station.erosion.nominal,
  });
}

/** Metal and thickness of what an arc on a part burns on. */
function electrode(
  s: Station,
  part: PartName,
): { readonly metal: MetalName; readonly thicknessM: number } {
  const capacitor = part === "tuningCapacitor" ? s.tuningCapacitor : s.loadingCapacitor;
  if (part === "bandSwitch") return s.bandSwitch;
  if (part === "outputContact") return s.outputContact;
  return { metal: capacitor.metal, thicknessM: capacitor.plateThicknessM };
}

function over(onsetS: number | null, clearingS: number | null): number | null {
  return onsetS === null || clearingS === null || clearingS <= 0 ? null : onsetS / clearingS;
}
