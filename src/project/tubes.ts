/**
 * Registered transmitting triodes as plain data: ratings, typical operation, and the law fitted to it.
 *
 * Standing. No data sheet was at hand: "source confirmed" is a figure met in a source that quotes the sheet, "from
 * memory" is the manufacturer's data sheet as remembered, good to some 10 % until someone checks it on paper. As a whole
 * a type is therefore "typical, unverified", and a page that shows it says so. A fit's own error stands beside it.
 *
 * Laws: space charge ik = K u^1.5, u = vg + vp/mu + v0, division ip/ig = delta sqrt(vp/vg); one tube. The fits of the
 * 3-500Z and the 8877 use the sharp law; the softened one of `physics/tube` meets them within a few per cent.
 */
import type { Figure, RegisteredTube, TubeFitRecord, TypicalColumn } from "./registeredTube";
import type { Ratings, Triode } from "./station";

const SHEET = "manufacturer's data sheet, from memory";

function remembered(value: number): Figure {
  return { value, standing: "from memory", source: SHEET };
}

function confirmed(value: number, source: string): Figure {
  return { value, standing: "source confirmed", source };
}

/** Interelectrode capacitances grid-cathode, grid-plate, plate-cathode. */
function capacitances(gridCathodeF: number, gridPlateF: number, plateCathodeF: number) {
  return {
    gridCathodeF: remembered(gridCathodeF),
    gridPlateF: remembered(gridPlateF),
    plateCathodeF: remembered(plateCathodeF),
  };
}

const NO_CAPACITANCES = { gridCathodeF: null, gridPlateF: null, plateCathodeF: null };

/** A column from memory; what it does not say is null. */
function column(
  plateV: number,
  cathodeV: number,
  plateCurrentA: number,
  known: {
    readonly [Name in
      | "idleA"
      | "gridCurrentA"
      | "driveW"
      | "plateLoadOhm"
      | "outputW"
      | "inputOhm"]?: number;
  },
  tubes = 1,
): TypicalColumn {
  const figure = (value: number | undefined) => (value === undefined ? null : remembered(value));
  return {
    tubes,
    plateV: remembered(plateV),
    cathodeV: remembered(cathodeV),
    idleA: figure(known.idleA),
    plateCurrentA: remembered(plateCurrentA),
    gridCurrentA: figure(known.gridCurrentA),
    driveW: figure(known.driveW),
    plateLoadOhm: figure(known.plateLoadOhm),
    outputW: figure(known.outputW),
    inputOhm: figure(known.inputOhm),
  };
}

const QUOTED = "trade discussion quoting the data sheet";
const NO_COLUMN = "no column of typical operation is known to us";
const NEWSLETTER = "tube maker's newsletter for amateur service, 1971";

export const REGISTERED_TUBES: readonly RegisteredTube[] = [
  {
    type: "3-500Z",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(130),
    plateV: remembered(4000),
    plateCurrentA: confirmed(0.4, QUOTED),
    plateDissipationW: remembered(500),
    gridDissipationW: remembered(20),
    gridCurrentA: null,
    heaterV: remembered(5),
    heaterA: remembered(14.6),
    warmUpS: remembered(2),
    ...capacitances(7.4e-12, 4.1e-12, 0.07e-12),
    columns: [
      {
        ...column(1500, 0, 0.4, { idleA: 0.065, gridCurrentA: 0.13, outputW: 330 }),
        plateV: confirmed(1500, QUOTED),
        cathodeV: confirmed(0, QUOTED),
        plateCurrentA: confirmed(0.4, QUOTED),
        plateLoadOhm: confirmed(1600, QUOTED),
      },
      column(2000, 0, 0.4, {
        idleA: 0.095,
        gridCurrentA: 0.13,
        plateLoadOhm: 2750,
        outputW: 500,
      }),
      column(2500, 0, 0.4, {
        idleA: 0.13,
        gridCurrentA: 0.12,
        plateLoadOhm: 3450,
        outputW: 600,
      }),
      column(3000, 10, 0.4, { idleA: 0.062, gridCurrentA: 0.108 }),
      { ...column(3500, 15, 0.4, { idleA: 0.053 }), cathodeV: confirmed(15, QUOTED) },
    ],
    fit: {
      perveanceAPerV1p5: 1.528e-3,
      mu: 130,
      offsetV: 0,
      divisionRatio: 1.049,
      rmsResidual: 0.042,
    },
    fitRemark:
      "columns up to 3000 V, amplification factor held at its rating; left free it becomes 151 and the drive falls by a " +
      "fifth, which is how uncertain the drive is",
  },
  {
    type: "8877",
    otherTypes: ["3CX1500A7"],
    standing: "typical, unverified",
    mu: confirmed(200, NEWSLETTER),
    plateV: remembered(4000),
    plateCurrentA: remembered(1),
    plateDissipationW: confirmed(1500, NEWSLETTER),
    gridDissipationW: confirmed(25, QUOTED),
    gridCurrentA: null,
    heaterV: confirmed(5, NEWSLETTER),
    heaterA: confirmed(10, NEWSLETTER), // later sheets say 10.5 A
    warmUpS: remembered(180),
    ...capacitances(38.5e-12, 10e-12, 0.1e-12), // others print 42 pF grid to cathode
    columns: [
      column(2700, 8.2, 0.74, {
        idleA: 0.092,
        gridCurrentA: 0.046,
        driveW: 41,
        plateLoadOhm: 1820,
        outputW: 1260,
        inputOhm: 54,
      }),
      column(3500, 8.2, 1, {
        idleA: 0.182,
        gridCurrentA: 0.074,
        driveW: 64,
        plateLoadOhm: 2000,
        outputW: 2075,
        inputOhm: 54,
      }),
    ],
    fit: {
      perveanceAPerV1p5: 5.768e-3,
      mu: 200,
      offsetV: 1.03,
      divisionRatio: 3.453,
      rmsResidual: 0.062,
    },
    fitRemark:
      "amplification factor held at its rating; the output of the 3500 V column comes out 18 % above the sheet, which " +
      "may state useful power behind the output circuit",
  },
  {
    type: "572B",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(170),
    plateV: remembered(2750),
    plateCurrentA: remembered(0.275),
    plateDissipationW: remembered(160),
    gridDissipationW: null,
    gridCurrentA: null,
    heaterV: remembered(6.3),
    heaterA: remembered(4),
    warmUpS: remembered(2),
    ...NO_CAPACITANCES,
    columns: [
      column(
        2400,
        2,
        0.5,
        { idleA: 0.09, gridCurrentA: 0.1, driveW: 100, outputW: 600 },
        2, // tubes
      ),
    ],
    fit: null,
    fitRemark:
      "the one column remembered misses every law by a quarter (idle current 43 mA against 90): a figure of it is wrong",
  },
  {
    type: "811A",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(160),
    plateV: remembered(1500), // intermittent service, as the next three
    plateCurrentA: remembered(0.175),
    plateDissipationW: remembered(65),
    gridDissipationW: null,
    gridCurrentA: remembered(0.05),
    heaterV: remembered(6.3),
    heaterA: remembered(4),
    warmUpS: remembered(2),
    ...capacitances(5.9e-12, 5.6e-12, 0.7e-12),
    columns: [
      column(1250, 0, 0.175, {
        idleA: 0.027,
        gridCurrentA: 0.028,
        driveW: 12,
        outputW: 165,
      }),
    ],
    fit: {
      perveanceAPerV1p5: 1.121e-3,
      mu: 160,
      offsetV: 0,
      divisionRatio: 2.94,
      rmsResidual: 0.037,
    },
    fitRemark:
      "one column, plate load taken from its output; amplification factor held at its rating",
  },
  {
    type: "GI-7B",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(65),
    plateV: remembered(2500),
    plateCurrentA: remembered(0.35),
    plateDissipationW: remembered(350),
    gridDissipationW: remembered(7),
    gridCurrentA: null,
    heaterV: remembered(12.6),
    heaterA: remembered(1.95),
    warmUpS: null,
    ...capacitances(11.2e-12, 4.6e-12, 0.09e-12),
    columns: [],
    fit: null,
    fitRemark: NO_COLUMN,
  },
  {
    type: "3-400Z",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(200),
    plateV: remembered(3000),
    plateCurrentA: remembered(0.4),
    plateDissipationW: remembered(400),
    gridDissipationW: remembered(20),
    gridCurrentA: null,
    heaterV: remembered(5),
    heaterA: remembered(14.5),
    warmUpS: null,
    ...capacitances(7.4e-12, 4.1e-12, 0.07e-12),
    columns: [],
    fit: null,
    fitRemark: NO_COLUMN,
  },
  {
    type: "3-1000Z",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(200),
    plateV: remembered(3000),
    plateCurrentA: remembered(0.8),
    plateDissipationW: remembered(1000),
    gridDissipationW: remembered(50),
    gridCurrentA: null,
    heaterV: remembered(7.5),
    heaterA: remembered(21.3),
    warmUpS: null,
    ...capacitances(17e-12, 6.9e-12, 0.12e-12),
    columns: [],
    fit: null,
    fitRemark: NO_COLUMN,
  },
  {
    type: "3CX1200A7",
    otherTypes: [],
    standing: "typical, unverified",
    mu: remembered(200),
    plateV: remembered(5000),
    plateCurrentA: remembered(0.8),
    plateDissipationW: remembered(1200),
    gridDissipationW: remembered(50),
    gridCurrentA: null,
    heaterV: remembered(7.5),
    heaterA: remembered(21),
    warmUpS: null,
    ...capacitances(20e-12, 12e-12, 0.2e-12),
    columns: [column(3600, 10, 0.7, { gridCurrentA: 0.23, driveW: 85, outputW: 1500 })],
    fit: {
      perveanceAPerV1p5: 2.839e-3,
      mu: 200,
      offsetV: 0,
      divisionRatio: 0.7266,
      rmsResidual: null,
    },
    fitRemark:
      "one column, two figures for two unknowns: nothing is left over to check; amplification factor held at its rating",
  },
];

type Fitted = RegisteredTube & { readonly fit: TubeFitRecord };

const FITTED = REGISTERED_TUBES.filter((tube): tube is Fitted => tube.fit !== null);

/** The designations a project may name: types with a law, other designations included. */
export const NAMED_TUBES: readonly string[] = FITTED.flatMap((tube) => [
  tube.type,
  ...tube.otherTypes,
]);

/** The type of a designation, with or without a law; null when it is none of ours. */
export function findRegisteredTube(designation: string): RegisteredTube | null {
  const has = ({ type, otherTypes }: RegisteredTube) =>
    type === designation || otherTypes.includes(designation);
  return REGISTERED_TUBES.find(has) ?? null;
}

/** So many tubes of a registered type as a project's plain triode; null for a type without a law. */
export function registeredTriode(designation: string, count: number): Triode | null {
  const fit = findRegisteredTube(designation)?.fit ?? null;
  if (fit === null) return null;
  const { mu, perveanceAPerV1p5, divisionRatio, offsetV } = fit;
  return {
    kind: "triode",
    name: designation,
    count,
    mu,
    perveanceAPerV1p5,
    divisionRatio,
    offsetV,
  };
}

/** The ratings of so many tubes, as far as they are known. */
export function registeredRatings(tube: RegisteredTube, count: number): Partial<Ratings> {
  const { plateV, plateDissipationW, plateCurrentA, gridCurrentA, gridDissipationW } = tube;
  return {
    plateV: plateV.value,
    plateDissipationW: count * plateDissipationW.value,
    ...(plateCurrentA === null ? {} : { plateCurrentA: count * plateCurrentA.value }),
    ...(gridCurrentA === null ? {} : { gridCurrentA: count * gridCurrentA.value }),
    ...(gridDissipationW === null ? {} : { gridDissipationW: count * gridDissipationW.value }),
  };
}
