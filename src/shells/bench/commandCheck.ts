/** What a page may ask for, before it reaches the bench: finite numbers in the ranges a project file allows. */
import { CONTROL_RANGES } from "../../project/controls";
import { FAULTS } from "../../project/faults";
import type { Command } from "../../project/scenario";
import { objectionToSignal } from "../../project/signals";

/** Why a command is not taken, in words; empty when it is. */
export function objectionTo(command: Command): string {
  if (command.do === "set") {
    const { min, max } = CONTROL_RANGES[command.control];
    if (!(command.value >= min && command.value <= max))
      return `${command.control} goes from ${min} to ${max}`;
    return "";
  }
  if (command.do === "placeFault") {
    const { severity, name } = FAULTS[command.fault];
    if (!(command.severity >= severity.min && command.severity <= severity.max))
      return `${name}: severity goes from ${severity.min} to ${severity.max}`;
    return "";
  }
  if (command.do === "signal") return objectionToSignal(command);
  if (command.do === "configureMonitor") {
    const { pickup, delayS } = command.change;
    if (pickup !== undefined && !Number.isFinite(pickup)) return "a pickup is a number";
    if (delayS !== undefined && !(delayS >= 0 && delayS < Infinity))
      return "a delay is a number of seconds, 0 or more";
  }
  return "";
}
