/** A small stand for monitors: readings are set directly, no physics, no sensor lag. */
import type { ActuatorName, MonitorDef, SensorName } from "../../src/project/protection";
import type { ProtectionEvent } from "../../src/protection/events";
import { smoothingsOf } from "../../src/protection/interpreter/program";
import {
  compileProtection,
  heldActions,
  type ProtectionState,
  type ProtectionSystem,
  startProtection,
} from "../../src/protection/protectionState";
import { SENSOR_NAMES } from "../../src/protection/sensing/sensing";
import type { Situation } from "../../src/protection/situation";
import { operated, stepProtection } from "../../src/protection/supervisor";

export const SAMPLE_NS = 50_000;
export const EXPECTED_GAIN_DB = 13.7;

export const ON_AIR: Situation = {
  operate: true,
  mode: "operate",
  keyDown: true,
  keyDownAtNs: 0,
  transmitConfirmed: true,
  supplyReadyAtNs: -1e12,
  inhibited: false,
};

export type Readings = Partial<Record<SensorName, number>>;

/** A station at rest in a normal full carrier: 62 W drive, 1453 W out, 3 kV, 0.8 A, 65 mA, 2.4 kV of RF. */
export const NORMAL: Readings = {
  driveForwardW: 62,
  driveReflectedW: 1,
  outputForwardW: 1453,
  outputReflectedW: 1.5,
  plateCurrentA: 0.82,
  gridCurrentA: 0.065,
  plateV: 3020,
  plateRfPeakV: 2420,
  exhaustAirK: 340,
  tankLight: 0,
};

export class Rig {
  system: ProtectionSystem;
  state: ProtectionState;
  situation: Situation = ON_AIR;
  readonly events: ProtectionEvent[] = [];
  readonly row: Float64Array;
  private readonly placesOf: readonly (readonly number[])[];
  sample = 0;

  constructor(monitors: readonly MonitorDef[], expectedForwardGainDb = () => EXPECTED_GAIN_DB) {
    const copies = smoothingsOf(monitors).filter((s) => s.smoothingS > 0);
    const rowIndex = (sensor: SensorName, smoothingS: number): number =>
      smoothingS === 0
        ? SENSOR_NAMES.indexOf(sensor)
        : SENSOR_NAMES.length +
          copies.findIndex((c) => c.sensor === sensor && c.smoothingS === smoothingS);
    this.row = new Float64Array(SENSOR_NAMES.length + copies.length);
    this.placesOf = SENSOR_NAMES.map((name, i) => [
      i,
      ...copies.flatMap((c, k) => (c.sensor === name ? [SENSOR_NAMES.length + k] : [])),
    ]);
    this.system = compileProtection(monitors, {
      sampleNs: SAMPLE_NS,
      rowIndex,
      expectedForwardGainDb,
    });
    this.state = startProtection(this.system);
  }

  get nowNs(): number {
    return this.sample * SAMPLE_NS;
  }

  read(readings: Readings): this {
    SENSOR_NAMES.forEach((name, i) => {
      const value = readings[name];
      if (value === undefined) return;
      for (const place of this.placesOf[i] ?? []) this.row[place] = value;
    });
    return this;
  }

  /** Sets readings, then runs whole samples for `timeS`. */
  run(timeS: number, readings: Readings = {}): this {
    this.read(readings);
    const end = this.sample + Math.round((timeS * 1e9) / SAMPLE_NS);
    while (this.sample < end) {
      this.state = stepProtection(
        this.system,
        this.state,
        this.row,
        this.sample,
        this.situation,
        (event) => this.events.push(event),
      );
      this.sample += 1;
    }
    return this;
  }

  comparator(monitorId: string, atNs: number, value: number): this {
    this.state = operated(
      this.system,
      this.state,
      monitorId,
      atNs,
      value,
      this.situation,
      (event) => this.events.push(event),
    );
    return this;
  }

  held(): readonly ActuatorName[] {
    return heldActions(this.system, this.state);
  }

  /** Instants in s of all events of a kind, of one monitor where an id is given. */
  timesOf(kind: ProtectionEvent["kind"], monitorId?: string): readonly number[] {
    return this.events
      .filter((e) => e.kind === kind && (monitorId === undefined || e.monitorId === monitorId))
      .map((e) => e.atNs / 1e9);
  }
}
