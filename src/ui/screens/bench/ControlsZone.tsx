/** What a person turns and presses: drive, operate, key, mode, tuning, loading, signal, load; and the faults. */
import { memo, useEffect, useRef, useState } from "react";
import type { ControlName } from "../../../project/scenario";
import { formatNumber, formatQuantity } from "../../../units/format";
import { type ParsedQuantity, parseQuantity } from "../../../units/parseQuantity";
import { ControlField } from "../../instruments/controls/ControlField";
import { FaultList } from "../../instruments/controls/FaultList";
import { SegmentedChoice } from "../../instruments/controls/SegmentedChoice";
import type { SheetVariant } from "../../theme/metrics";
import { useBench, usePlayback } from "./benchContext";
import { PowerGroup } from "./PowerGroup";
import { SignalGroup } from "./SignalGroup";
import type { FaultActions } from "./useFaultActions";
import { faultEntries } from "./views/faultEntries";

interface Knob {
  readonly control: ControlName;
  readonly name: string;
  readonly minimum: number;
  readonly maximum: number;
  readonly step: number;
  readonly unit: string;
  readonly toShown: (value: number) => number;
  readonly toControl: (shown: number) => number;
  readonly format: (shown: number) => string;
  readonly parse: (typed: string) => ParsedQuantity;
  readonly markAt: number | null;
  readonly hint: string;
}

const same = (v: number): number => v;
const percent = (v: number): string => formatNumber(100 * v, 3, true);

const KNOBS: readonly Knob[] = [
  {
    control: "driveW",
    name: "Drive",
    minimum: 0,
    maximum: 260,
    step: 1,
    unit: "W",
    toShown: same,
    toControl: same,
    format: (v) => formatNumber(v),
    parse: (typed) => parseQuantity(typed, "W"),
    markAt: null,
    hint: "",
  },
  {
    control: "tuningRatio",
    name: "Tuning",
    minimum: -0.4,
    maximum: 0.4,
    step: 0.002,
    unit: "%",
    toShown: (v) => v - 1,
    toControl: (v) => 1 + v,
    format: percent,
    parse: (typed) => parseQuantity(typed, "%"),
    markAt: 0,
    hint: "",
  },
  {
    control: "loadingRatio",
    name: "Loading",
    minimum: -0.6,
    maximum: 1,
    step: 0.005,
    unit: "%",
    toShown: (v) => v - 1,
    toControl: (v) => 1 + v,
    format: percent,
    parse: (typed) => parseQuantity(typed, "%"),
    markAt: 0,
    hint: "",
  },
  {
    control: "loadSwr",
    name: "Load, SWR",
    minimum: 1,
    maximum: 10,
    step: 0.05,
    unit: "",
    toShown: (v) => Math.max(v, 1),
    toControl: same,
    format: (v) => formatNumber(v),
    parse: (typed) => parseQuantity(typed, ""),
    markAt: 1,
    hint: "",
  },
  {
    control: "loadPhaseRad",
    name: "Load, phase",
    minimum: -180,
    maximum: 180,
    step: 5,
    unit: "°",
    toShown: (v) => (v * 180) / Math.PI,
    toControl: (v) => (v * Math.PI) / 180,
    format: (v) => v.toFixed(0).replace("-", "−"),
    parse: (typed) => parseQuantity(typed.replace(/°\s*$/, ""), ""),
    markAt: null,
    hint: "",
  },
];

export interface ControlsZoneProps {
  readonly faults: FaultActions;
  readonly variant: SheetVariant;
  /** Opens what there is to say of the faults. */
  readonly onFaultWords: () => void;
}

export function ControlsZone({ faults, variant, onFaultWords }: ControlsZoneProps) {
  const { playback } = useBench();
  const world = usePlayback((s) => s.world);
  const isAntenna = usePlayback((s) => s.project?.station.load.kind === "antenna");
  if (world === null) return null;
  return (
    <section className="bench-controls" aria-label="Controls and faults">
      <div className="zone-head">
        <h2>Controls</h2>
        <span className="note">{keyHint(world)}</span>
      </div>
      {KNOBS.slice(0, 1).map((k) => (
        <KnobField key={k.control} knob={k} />
      ))}
      <SegmentedChoice
        name="Station"
        nameHidden
        options={[
          { value: "standby", word: "Standby" },
          { value: "operate", word: "Operate" },
        ]}
        value={world.operate ? "operate" : "standby"}
        onChoose={(v) => playback.act({ do: v })}
      />
      <SegmentedChoice
        name="Key"
        nameHidden
        options={[
          { value: "up", word: "Key up" },
          { value: "down", word: "Key down" },
        ]}
        value={world.keyDown ? "down" : "up"}
        onChoose={(v) => {
          playback.act({ do: "key", down: v === "down" });
          if (v === "down" && playback.store.getState().mode === "live") playback.run();
        }}
      />
      <SegmentedChoice
        name="Mode"
        nameHidden
        options={[
          { value: "operate", word: "Operate mode" },
          { value: "tune", word: "Tune mode" },
        ]}
        value={world.mode}
        onChoose={(mode) => playback.act({ do: "mode", mode })}
      />
      {KNOBS.slice(1, 3).map((k) => (
        <KnobField key={k.control} knob={k} />
      ))}
      <SignalGroup world={world} />
      <details className="load-knobs">
        <summary>Load at the connector</summary>
        {isAntenna ? (
          <p className="note">
            An antenna behind a line sets it. Place ice, sway or another antenna, or give the
            station a plain load.
          </p>
        ) : (
          KNOBS.slice(3).map((k) => <KnobField key={k.control} knob={k} />)
        )}
      </details>
      <PowerGroup world={world} />
      <FaultList
        faults={faultEntries(world, faults.severities)}
        short={variant === "compact"}
        action={
          <button type="button" className="button solid strike-again" onClick={faults.strikeAgain}>
            Strike again
          </button>
        }
        lead={
          <button type="button" className="fault-fold" onClick={onFaultWords}>
            <span aria-hidden="true">?</span>
            What each fault does
          </button>
        }
        onToggle={faults.toggle}
        onSeverity={faults.changeSeverity}
      />
    </section>
  );
}

function keyHint(world: {
  readonly driveInhibited: boolean;
  readonly keyDown: boolean;
  readonly phase: string;
  readonly operate: boolean;
  readonly mode: "operate" | "tune";
  readonly power: { readonly on: boolean };
}): string {
  if (!world.power.on) return "power off";
  if (world.driveInhibited) return "drive inhibited";
  if (world.keyDown && !world.operate) return "amplifier bypassed";
  if (world.keyDown && world.phase !== "transmit") return "T/R sequence";
  if (world.mode === "tune") return "20 W, 15 s a key-down";
  return "";
}

const KnobField = memo(PlainKnobField);

function PlainKnobField({ knob }: { readonly knob: Knob }) {
  const { playback } = useBench();
  const target = usePlayback((s) => s.world?.targets[knob.control] ?? 0);
  const [hand, setHand] = useState<number | null>(null);
  const turning = useRef(false);
  // the hand's value stands until the bench has taken it
  // biome-ignore lint/correctness/useExhaustiveDependencies: the bench's answer is the reason to let go
  useEffect(() => {
    if (!turning.current) setHand(null);
  }, [target]);
  const move = (shown: number): void => {
    turning.current = true;
    setHand(knob.toControl(shown));
    playback.moveKnob(knob.control, knob.toControl(shown), performance.now());
  };
  const commit = (shown: number): void => {
    move(shown);
    turning.current = false;
    playback.releaseKnob(knob.control);
    const { mode, replaying } = playback.store.getState();
    const isTaken = mode === "live" && !replaying && knob.toControl(shown) !== target;
    if (!isTaken) setHand(null);
  };
  const value = Math.min(Math.max(knob.toShown(hand ?? target), knob.minimum), knob.maximum);
  return (
    <ControlField
      name={knob.name}
      value={value}
      minimum={knob.minimum}
      maximum={knob.maximum}
      step={knob.step}
      unit={knob.unit}
      format={knob.format}
      formatFull={(v) =>
        knob.unit === "%" || knob.unit === "°" || knob.unit === ""
          ? `${knob.format(v)}${knob.unit === "" ? "" : `\u00a0${knob.unit}`}`
          : formatQuantity(v, knob.unit)
      }
      parse={knob.parse}
      markAt={knob.markAt}
      hint={knob.hint}
      onChange={move}
      onCommit={commit}
    />
  );
}
