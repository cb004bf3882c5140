/**
 * Power-up and switch-off: heater and fan, warm-up timer, interlocks, and the plate supply through its step-start
 * resistor. Pure, as the sequencer.
 *
 * Switched on, the heater warms for its time; then, with lid and airflow switch closed, the contactor closes through the
 * step-start resistor, which is bridged some time later. Switched off, heater and plate supply go at once and the fan runs
 * on. An open interlock puts the station to standby and drops the contactor; an open lid fires the crowbar besides,
 * where one is fitted. Closed again, the supply comes up as after the warm-up; operate is for a person to choose.
 */
import type { InterlockName } from "../project/scenario";
import type { Project } from "../project/types";
import { nanoseconds } from "../units/nanoseconds";
import type { BenchEvent, SupplyNews } from "./benchEvent";
import type { Logic, Power } from "./logic";
import {
  type Change,
  type PowerStep,
  type Scheduled,
  setOperate,
  type TimedStep,
  takeStep,
} from "./sequencer";

/** The mains switch; each way voids what the other had in store. A new fuse is put in while it is off. */
export function setPower(project: Project, logic: Logic, on: boolean, ns: number): Change {
  const turn = logic.power.turn + 1;
  const { warmUpS, fanRunOnS } = project.station.powerUp;
  if (on) {
    const warmAtNs = ns + nanoseconds(warmUpS);
    return {
      logic: {
        ...logic,
        fuseOpen: false,
        power: { ...logic.power, on, warmAtNs, fanOn: true, turn },
      },
      later: [later(warmAtNs, "warm", turn)],
      events: [said(ns, "heaterOn")],
      jumps: true,
    };
  }
  const power: Power = { ...logic.power, on, plateOn: false, stepIn: false, turn };
  const off = standby(project, { ...logic, power, supplyReadyAtNs: null }, ns);
  return {
    logic: off.logic,
    later: [...off.later, later(ns + nanoseconds(fanRunOnS), "fanOff", turn)],
    events: [...off.events, said(ns, "powerOff")],
    jumps: true,
  };
}

/** Lid or airflow switch opens or closes. */
export function setInterlock(
  project: Project,
  logic: Logic,
  which: InterlockName,
  closed: boolean,
  ns: number,
): Change {
  const switched: Power =
    which === "lid"
      ? { ...logic.power, lidClosed: closed }
      : { ...logic.power, airflowClosed: closed };
  if (closed) {
    const isHeld = logic.tripHeld || !switched.lidClosed;
    return plateUp(
      project,
      { ...logic, power: switched, crowbarFired: logic.crowbarFired && isHeld },
      ns,
    );
  }
  const turn = switched.turn + 1;
  const { contactor, crowbar } = project.actuators;
  const open = { ...logic, supplyReadyAtNs: null, power: { ...switched, turn } };
  const off = standby(project, open, ns);
  const slow = logic.failures.contactorSlowBy;
  const steps = [later(ns + nanoseconds(contactor.delayS * slow), "plateOff", turn)];
  if (which === "lid" && crowbar.fitted)
    steps.push(later(ns + nanoseconds(crowbar.delayS), "crowbar", turn));
  // a warm-up under way goes on under the new number
  if (switched.on && ns < switched.warmAtNs) steps.push(later(switched.warmAtNs, "warm", turn));
  return { ...off, later: [...off.later, ...steps] };
}

/** A timed step of sequence, actuators or power. */
export function takeTimedStep(project: Project, logic: Logic, item: TimedStep, ns: number): Change {
  if (item.kind !== "power") return takeStep(project, logic, item, ns);
  const { power, failures } = logic;
  const nothing: Change = { logic, later: [], events: [], jumps: false };
  if (item.turn !== power.turn) return nothing;
  switch (item.step) {
    case "warm": {
      const up = plateUp(project, logic, ns);
      return { ...up, events: [said(ns, "warm"), ...up.events] };
    }
    case "bridged":
      return changed({ ...logic, power: { ...power, stepIn: false } }, [said(ns, "supplyOn")]);
    case "plateOff":
      if (failures.contactorWelded) return { ...nothing, events: [acted(ns, "contactor", false)] };
      return changed(
        { ...logic, supplyReadyAtNs: null, power: { ...power, plateOn: false, stepIn: false } },
        [said(ns, "supplyOff")],
      );
    case "crowbar":
      if (failures.crowbarFails) return { ...nothing, events: [acted(ns, "crowbar", false)] };
      return changed({ ...logic, crowbarFired: true }, [acted(ns, "crowbar", true)]);
    case "fanOff":
      return changed({ ...logic, power: { ...power, fanOn: false } }, [said(ns, "fanOff")]);
  }
}

/** Closes the contactor through the step-start resistor, where everything allows it and it is not closed already. */
function plateUp(project: Project, logic: Logic, ns: number): Change {
  const { power } = logic;
  const isAllowed = power.on && power.lidClosed && power.airflowClosed && ns >= power.warmAtNs;
  const turn = power.turn + 1;
  if (!isAllowed) return changed(logic, []);
  const { supply } = project.station;
  const stepS = supply.kind === "rectified" ? supply.stepStart.timeS : 0;
  const next = { ...logic, power: { ...power, plateOn: true, stepIn: true, turn } };
  return {
    logic: next,
    later: [later(ns + nanoseconds(stepS), "bridged", turn)],
    events: [said(ns, "stepStart")],
    jumps: true,
  };
}

function standby(project: Project, logic: Logic, ns: number): Change {
  return { ...setOperate(project, logic, false, ns), jumps: true };
}

function changed(logic: Logic, events: readonly BenchEvent[]): Change {
  return { logic, later: [], events, jumps: true };
}

function later(atNs: number, step: PowerStep, turn: number): Scheduled {
  return { atNs, step: { kind: "power", step, turn } };
}

function said(atNs: number, news: SupplyNews): BenchEvent {
  return { kind: "supply", atNs, news };
}

function acted(atNs: number, actuator: "contactor" | "crowbar", works: boolean): BenchEvent {
  return { kind: "actuator", atNs, actuator, effect: works ? "acted" : "failed" };
}
