/** A monitor as the chain it is, in words: from the sensor to the reset, one line for each criterion where they differ. */
import type { Condition, MonitorDef, ResetRule, Sensors } from "../../../project/protection";
import { sensorsOf } from "../../../protection/derived";
import { formatReading, QUANTITY_WORDS } from "../../../protection/quantityWords";
import { formatTime } from "../../../units/format";
import { ACTUATOR_WORDS, conditionWords } from "../bench/views/words";
import { choiceWord } from "./monitorFields";

export interface ChainLink {
  readonly stage: string;
  /** One for each criterion, or one for all. */
  readonly lines: readonly string[];
}

export function chainOf(def: MonitorDef, sensors: Sensors): readonly ChainLink[] {
  const isComparator = def.path === "comparator";
  const names = [...new Set(def.criteria.flatMap((c) => sensorsOf(c.quantity)))];
  const slowestS = isComparator
    ? sensors.comparatorTap.timeConstantS
    : Math.max(0, ...names.map((name) => sensors[name].timeConstantS));
  const smoothing =
    def.smoothingS > 0 && !isComparator ? [`${formatTime(def.smoothingS)} smoothing`] : [];
  return [
    { stage: "Sensor", lines: names.map((name) => QUANTITY_WORDS[name].words) },
    { stage: "Filter", lines: [formatTime(slowestS), ...smoothing] },
    { stage: "Scan", lines: [isComparator ? "none" : formatTime(def.scanS)] },
    {
      stage: "Pickup",
      lines: def.criteria.map((c) => {
        const words = `${c.side} ${formatReading(c.quantity, c.pickup)}`;
        return sensorsOf(c.quantity).length > 1
          ? `${QUANTITY_WORDS[c.quantity].words} ${words}`
          : words;
      }),
    },
    { stage: "Drop-off", lines: def.criteria.map((c) => formatReading(c.quantity, c.dropOff)) },
    { stage: "Armed", lines: armedWords(def) },
    { stage: "Blanking", lines: [def.blankingS > 0 ? formatTime(def.blankingS) : "none"] },
    { stage: "Confirmation", lines: def.criteria.map((c) => confirmationWords(def, c.timing)) },
    { stage: "Alarm", lines: [alarmWords(def)] },
    {
      stage: "Action",
      lines: [
        def.actions.length === 0
          ? "none"
          : def.actions.map((name) => ACTUATOR_WORDS[name]).join(", "),
      ],
    },
    { stage: "Reset", lines: [resetWords(def.reset)] },
  ];
}

function armedWords({ arming }: MonitorDef): readonly string[] {
  const ready =
    arming.afterSupplyReadyS > 0 ? [`${formatTime(arming.afterSupplyReadyS)} after supply`] : [];
  return [choiceWord(arming.kind), ...ready, ...arming.when.map(shortCondition)];
}

function shortCondition(condition: Condition): string {
  return conditionWords(condition);
}

function confirmationWords(
  { path }: MonitorDef,
  timing: MonitorDef["criteria"][number]["timing"],
): string {
  switch (timing.kind) {
    case "instantaneous":
      return path === "comparator" ? "at once" : `${timing.scans} of ${timing.ofScans} scans`;
    case "definite":
      return formatTime(timing.delayS);
    case "inverse":
      return `${choiceWord(timing.curve)} × ${timing.timeMultiplier}`;
    case "thermal":
      return `thermal, ${formatTime(timing.timeConstantS)}`;
  }
}

function alarmWords({ alarm }: MonitorDef): string {
  if (alarm === null) return "none";
  return `${alarm.side} ${formatReading(alarm.quantity, alarm.level)}, ${formatTime(alarm.delayS)}`;
}

function resetWords(reset: ResetRule): string {
  if (reset.kind === "lockout") return "lockout";
  const again =
    reset.kind === "self" ? `itself, ${formatTime(reset.afterS)}, ${reset.tries}×` : "by hand";
  const second =
    reset.repeatWithinS > 0 ? `; second in ${formatTime(reset.repeatWithinS)} locks out` : "";
  return again + second;
}
