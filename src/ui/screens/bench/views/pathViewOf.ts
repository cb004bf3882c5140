/** The signal path of the bench as a view: readings, stress bars, fault chips, the struck part. */

import type { ClockPart } from "../../../../physics/heat/clocks";
import { ARC_PLACES } from "../../../../physics/stage/layout";
import { arcPlaceOf } from "../../../../project/arcPlaceOf";
import type { ArcPlace } from "../../../../project/station";
import type { Project } from "../../../../project/types";
import { FRAME } from "../../../../shells/bench/frameLayout";
import type { RaceReport } from "../../../../shells/bench/protocol";
import type { WorldView } from "../../../../shells/bench/worldView";
import type { ChannelName } from "../../../../simulation/channels";
import { formatPercent, formatQuantity, formatTime } from "../../../../units/format";
import type { Prefix } from "../../../../units/prefixes";
import type {
  ArcLabel,
  PathPart,
  PathReading,
  PathView,
  StressBar,
} from "../../../instruments/path/pathView";
import { shownParts, shownQuantity } from "../../../instruments/shownQuantity";
import { chipsOn } from "./faultEntries";
import { channelIn, channelOf, clockIn } from "./frameReader";
import { wholeOf } from "./gaugeViews";

export interface PathInput {
  readonly frame: ArrayLike<number>;
  readonly world: WorldView;
  readonly project: Project;
  /** The race under way; gives what was before. */
  readonly report: RaceReport | null;
}

const TUBES = ["no tube", "one triode", "two triodes", "three triodes", "four triodes"];

/** The whole path at the frame's instant. */
export function pathViewOf(input: PathInput): PathView {
  const { frame, world, project } = input;
  const before = input.report?.before ?? null;
  const at = (name: ChannelName): number => channelIn(frame, name);
  const read = (
    key: string,
    name: ChannelName,
    unit: string,
    what: string,
    prefix?: Prefix,
  ): PathReading => {
    const format = prefix === undefined ? {} : { prefix };
    const value = name === "plateV" ? wholeOf(at(name)) : at(name);
    const parts = shownParts(value, unit, format);
    const was = channelOf(before, name);
    return {
      key,
      number: parts.number,
      unit: what === "" ? parts.unit : `${parts.unit} ${what}`,
      before: was === null ? "" : `before ${shownQuantity(was, unit, format)}`,
    };
  };
  const arcs = arcLabels(input);
  const clock = (part: ClockPart, label: string): StressBar => ({
    key: part,
    label,
    kind: "stress",
    fraction: clockIn(frame, part).stress,
  });
  const worn: StressBar = {
    key: "wear",
    label: "contact wear",
    kind: "damage",
    fraction: clockIn(frame, "relayContact").fraction,
  };
  /** A struck place shows its melting edge, one with dirt in its gap how near it is to its strike, any other what its current does to it. */
  const edgeOr = (place: ArcPlace, label: string, otherwise: StressBar): StressBar =>
    world.burning.includes(place) || input.report?.zero.struck === place
      ? edge(place, label)
      : (dirty(place) ?? otherwise);
  /** A gap with dust or an insect in it shows how near it is to its strike. */
  const dirty = (place: ArcPlace): StressBar | null =>
    world.faults.some(
      (f) => arcPlaceOf(f.part) === place && (f.fault === "dust" || f.fault === "insect"),
    )
      ? {
          key: `gap-${place}`,
          label: "gap strength used",
          kind: "stress",
          fraction: frame[FRAME.gapStrain + ARC_PLACES.indexOf(place)] as number,
        }
      : null;
  const edge = (place: ArcPlace, label: string): StressBar => ({
    key: `edge-${place}`,
    label,
    kind: "damage",
    fraction: frame[FRAME.edgeFractions + ARC_PLACES.indexOf(place) * 3] as number,
    ...peakOf(input, place, label),
  });
  const outputW = at("outputW");
  const outputBefore = channelOf(before, "outputW") ?? outputW;
  const plateW = Math.max(at("plateV") * at("tubeCurrentA") - at("plateDissipationW"), 0);
  const driveW = at("driveW");
  const driveBefore = channelOf(before, "driveW") ?? driveW;
  const part = (
    symbol: PathPart["symbol"],
    name: string,
    readings: readonly PathReading[],
    more: Partial<PathPart> = {},
  ): PathPart => ({
    symbol,
    name,
    readings,
    notes: [],
    bars: [],
    faults: [],
    arc: null,
    powerW: outputW,
    powerBeforeW: outputBefore,
    open: false,
    ...more,
  });
  const swr = (forward: number, reflected: number): string => {
    if (forward < 5) return "–";
    const g = Math.sqrt(Math.min(reflected / forward, 0.9999));
    return Math.min((1 + g) / (1 - g), 99).toFixed(2);
  };
  const forward = at("forwardW");
  const reflected = at("reflectedW");
  const swrBefore =
    before === null
      ? ""
      : `before ${swr(channelOf(before, "forwardW") ?? 0, channelOf(before, "reflectedW") ?? 0)}`;
  const parts: PathPart[] = [
    part("exciter", "Exciter", [read("drive", "driveW", "W", "drive", "")], {
      powerW: driveW,
      powerBeforeW: driveBefore,
      bars: [clock("exciter", "reflected")],
      faults: chipsOn(world, ["exciter"]),
    }),
    part("input", "Input circuit", [read("driveReflected", "driveReflectedW", "W", "back", "")], {
      powerW: driveW,
      powerBeforeW: driveBefore,
    }),
    part(
      "tube",
      `Tube, ${TUBES[project.station.tube.count] ?? `${project.station.tube.count} triodes`}`,
      [
        read("plate", "plateCurrentA", "A", "plate", ""),
        read("grid", "gridCurrentA", "A", "grid", "m"),
      ],
      {
        powerW: plateW,
        powerBeforeW: outputBefore,
        bars: [clock("grid", "grid"), clock("cathode", "cathode"), clock("anode", "anode")],
        faults: chipsOn(world, ["tube"]),
      },
    ),
    part("supply", "Supply", [read("supply", "plateV", "V", "")], {
      faults: chipsOn(world, ["supply"]),
    }),
    part("tuning", "Tuning capacitor", [read("plateRf", "plateRfPeakV", "V", "peak")], {
      powerW: outputW,
      bars: [
        edgeOr(
          "tuningCapacitor",
          "plate edge now, way to melt onset",
          clock("tuningWiper", "RF current heating"),
        ),
      ],
      faults: chipsOn(world, ["tuningCapacitor"]),
      arc: arcs.tuningCapacitor,
    }),
    part("coil", "Coil, band switch", [read("coil", "coilPeakA", "A", "peak", "")], {
      bars: [edgeOr("coilTap", "contact now", clock("switchContact", "RF heating"))],
      faults: chipsOn(world, ["bandSwitch", "tank"]),
      arc: arcs.coilTap,
    }),
    part("loading", "Loading capacitor", [read("outputRf", "outputRfPeakV", "V", "peak", "")], {
      bars: [edgeOr("loadingCapacitor", "edge now", clock("loadingWiper", "RF heating"))],
      faults: chipsOn(world, ["loadingCapacitor"]),
      arc: arcs.loadingCapacitor,
    }),
    part(
      "relay",
      "T/R relay",
      [
        {
          key: "relay",
          number: world.antennaClosed || world.failures.relayStuck ? "transmit" : "receive",
          unit: "",
          before: relayWord(world),
        },
      ],
      {
        bars: [edgeOr("beyondCoupler", "contact now", worn)],
        faults: chipsOn(world, ["outputContact", "protection"]),
        arc: arcs.beyondCoupler,
        open: !(world.antennaClosed || world.failures.relayStuck),
      },
    ),
    part(
      "line",
      "Line",
      [{ key: "vswr", number: swr(forward, reflected), unit: "VSWR", before: swrBefore }],
      {
        notes: [
          `reflected ${shownQuantity(reflected, "W", { prefix: "" })}`,
          ...(before === null
            ? []
            : [
                `before ${shownQuantity(channelOf(before, "reflectedW") ?? 0, "W", { prefix: "" })}`,
              ]),
        ],
      },
    ),
    part("antenna", "Antenna", [read("output", "outputW", "W", "")], {
      notes: ["line weight: power", ...(before === null ? [] : ["grey: before"])],
      faults: chipsOn(world, ["load"]),
    }),
  ];
  return { parts, summary: summaryOf(input, outputW, driveW) };
}

/** How far the struck edge came at most, once the arc is out: what the race calls its peak. */
function peakOf({ report, frame }: PathInput, place: ArcPlace, label: string): Partial<StressBar> {
  if (report === null || report.zero.struck !== place) return {};
  const nowNs = frame[FRAME.playNs] as number;
  const { arcOutS } = report.race;
  if (arcOutS === null || report.zero.atNs + arcOutS * 1e9 > nowNs) return {};
  const lane = report.race.damage.find((d) => d.part === place);
  return lane === undefined
    ? {}
    : {
        label: `${label.split(", ")[0]}, peak ${formatPercent(Math.min(lane.greatestFraction, 1))}`,
      };
}

function relayWord(world: WorldView): string {
  if (world.failures.relayStuck) return "contacts stuck";
  if (world.driveInhibited) return "drive inhibited";
  if (!world.operate) return "standby";
  return world.phase === "closing" ? "closing" : "";
}

/** Words at a struck part: burning while it burns, out afterwards until the fault is removed. */
function arcLabels(input: PathInput): Record<ArcPlace, ArcLabel | null> {
  const { world, report, frame } = input;
  const labels: Record<ArcPlace, ArcLabel | null> = {
    tuningCapacitor: null,
    coilTap: null,
    loadingCapacitor: null,
    beyondCoupler: null,
  };
  for (const place of ARC_PLACES) {
    const placed = world.faults.some((f) => arcPlaceOf(f.part) === place);
    if (world.bridged.includes(place)) {
      labels[place] = { standing: "out", lines: ["bridged by metal", "a dead short"] };
    } else if (world.burning.includes(place)) {
      labels[place] = {
        standing: "burning",
        lines: [
          formatQuantity(channelIn(frame, "arcW"), "W"),
          `${formatQuantity(channelIn(frame, "arcPeakA"), "A", { prefix: "" })} peak`,
        ],
      };
    } else if (placed && report?.zero.struck === place && report.race.arcOutS !== null) {
      const watts = report.race.arcEnergyJ / Math.max(report.race.arcOutS, 1e-9);
      labels[place] = {
        standing: "out",
        lines: [
          `${formatQuantity(watts, "W")}, burned ${formatTime(report.race.arcOutS)}`,
          `${formatQuantity(report.race.arcEnergyJ, "J")} in the gap`,
        ],
      };
    }
  }
  return labels;
}

function summaryOf(input: PathInput, outputW: number, driveW: number): string {
  const burning = input.world.burning.length > 0 ? " An arc burns." : "";
  return `Signal path from exciter to antenna: drive ${formatQuantity(driveW, "W", { prefix: "" })}, output ${formatQuantity(outputW, "W")}.${burning}`;
}
