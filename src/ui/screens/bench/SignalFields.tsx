/** The choice of what the exciter sends, its number, and a text in Morse. */
import { useId, useState } from "react";
import { DEFAULT_SIGNALS } from "../../../project/defaults";
import { keyText } from "../../../project/morse";
import type { Signal } from "../../../project/scenario";
import { SIGNAL_RANGES } from "../../../project/signals";
import { dressDigits, formatQuantity } from "../../../units/format";
import { parseQuantity } from "../../../units/parseQuantity";
import { QuantityInput } from "../../instruments/controls/QuantityInput";
import { useBench } from "./benchContext";
import { SIGNAL_WORDS, type SignalKind } from "./views/signalKinds";
import { upperFirst } from "./views/words";
import "./signal.css";

/** As in a project file. */
const SPEED = { min: 1, max: 100 };
/** A usual one; timing is that of the word PARIS. */
const USUAL_SPEED = 20;
const LONGEST_TEXT = 60;

interface SignalFieldsProps {
  readonly kind: SignalKind;
  readonly signal: Signal;
  readonly onMorse: (morse: "no" | "chosen" | "sent") => void;
}

export default function SignalFields({ kind, signal, onMorse }: SignalFieldsProps) {
  const { playback } = useBench();
  const id = useId();
  const choose = (to: SignalKind): void => {
    onMorse(to === "morse" ? "chosen" : "no");
    const next = DEFAULT_SIGNALS[to === "morse" ? "carrier" : to];
    if (next.signal !== signal.signal) playback.act({ do: "signal", ...next });
  };
  return (
    <>
      <div className="signal-row">
        <label htmlFor={id}>Exciter sends</label>
        <select id={id} value={kind} onChange={(e) => choose(e.currentTarget.value as SignalKind)}>
          {(Object.keys(SIGNAL_WORDS) as SignalKind[]).map((k) => (
            <option key={k} value={k}>
              {upperFirst(SIGNAL_WORDS[k])}
            </option>
          ))}
        </select>
      </div>
      {kind === "morse" ? (
        <MorseFields onSent={() => onMorse("sent")} />
      ) : (
        <SignalNumber signal={signal} />
      )}
    </>
  );
}

/** The one number a signal has, if any. */
function SignalNumber({ signal }: { readonly signal: Signal }) {
  const { playback } = useBench();
  const put = (next: Signal): void => playback.act({ do: "signal", ...next });
  switch (signal.signal) {
    case "twoTone":
      return (
        <NumberRow
          name="Spacing"
          value={signal.spacingHz}
          range={SIGNAL_RANGES.spacingHz}
          unit="Hz"
          onCommit={(spacingHz) => put({ ...signal, spacingHz })}
        />
      );
    case "processedSpeech":
      return (
        <NumberRow
          name="Processing"
          value={signal.processingDb}
          range={SIGNAL_RANGES.processingDb}
          unit="dB"
          onCommit={(processingDb) => put({ ...signal, processingDb })}
        />
      );
    case "data":
      return (
        <NumberRow
          name="Share of the drive"
          value={signal.powerShare}
          range={SIGNAL_RANGES.powerShare}
          unit="%"
          onCommit={(powerShare) => put({ ...signal, powerShare })}
        />
      );
    default:
      return <p className="note">Sent while the key is down.</p>;
  }
}

function MorseFields({ onSent }: { readonly onSent: () => void }) {
  const { playback } = useBench();
  const id = useId();
  const [text, setText] = useState("PARIS PARIS PARIS");
  const [speed, setSpeed] = useState(USUAL_SPEED);
  const keyed = keyText(text, speed);
  const lastsS = keyed.ok ? keyed.elements.reduce((s, e) => s + e.downS + e.upS, 0) : 0;
  const send = (): void => {
    playback.act({ do: "key", text: text.trim(), wordsPerMinute: speed });
    onSent();
    if (playback.store.getState().mode === "live") playback.run();
  };
  return (
    <>
      <NumberRow
        name="Words a minute"
        value={speed}
        range={SPEED}
        unit=""
        onCommit={(to) => setSpeed(to)}
      />
      <div className="signal-row">
        <label htmlFor={id}>Text</label>
        <input
          id={id}
          type="text"
          autoComplete="off"
          spellCheck={false}
          maxLength={LONGEST_TEXT}
          value={text}
          aria-invalid={!keyed.ok}
          aria-describedby={`${id}-says`}
          onChange={(e) => setText(e.currentTarget.value)}
          onKeyDown={(e) => {
            if (e.key === "Enter" && keyed.ok) send();
          }}
        />
      </div>
      <div className="signal-row">
        <span id={`${id}-says`} className="note">
          {keyed.ok ? `Keys for ${formatQuantity(lastsS, "s")}.` : `${keyed.problems.join("; ")}.`}
        </span>
        <button type="button" className="button" disabled={!keyed.ok} onClick={send}>
          Send
        </button>
      </div>
    </>
  );
}

interface NumberRowProps {
  readonly name: string;
  readonly value: number;
  readonly range: { readonly min: number; readonly max: number };
  readonly unit: string;
  readonly onCommit: (value: number) => void;
}

function NumberRow({ name, value, range, unit, onCommit }: NumberRowProps) {
  const id = useId();
  const scale = unit === "%" ? 100 : 1;
  const plain = (v: number): string => dressDigits(String(Number((v * scale).toPrecision(4))));
  return (
    <div className="signal-row">
      <span id={id}>{name}</span>
      <QuantityInput
        name={name}
        value={value}
        minimum={range.min}
        maximum={range.max}
        format={plain}
        formatFull={(v) => (unit === "" ? plain(v) : `${plain(v)}\u00a0${unit}`)}
        parse={(typed) => parseQuantity(typed, unit)}
        unit={unit}
        labelledBy={id}
        onCommit={onCommit}
      />
    </div>
  );
}
