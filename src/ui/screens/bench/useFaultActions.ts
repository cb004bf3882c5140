/** Placing and removing faults, with the caution before those nobody should try by hand. */
import { useCallback, useState } from "react";
import { FAULTS, usualSeverity } from "../../../project/faults";
import type { Command } from "../../../project/scenario";
import { useBench } from "./benchContext";
import { faultOfKey, severityAt } from "./views/faultEntries";
import { PLACE_WORDS } from "./views/words";

export interface FaultActions {
  readonly severities: Readonly<Record<string, number>>;
  /** Key of the fault that waits for its caution to be read; null for none. */
  readonly waiting: string | null;
  readonly lastKey: string;
  readonly toggle: (key: string) => void;
  readonly changeSeverity: (key: string, share: number) => void;
  readonly accept: () => void;
  readonly cancel: () => void;
  /** Takes the fault away, resets, and puts it back on the air. */
  readonly strikeAgain: () => void;
}

const FIRST = "insect@tuningCapacitor";

export function useFaultActions(): FaultActions {
  const { playback } = useBench();
  const [severities, setSeverities] = useState<Readonly<Record<string, number>>>({});
  const [waiting, setWaiting] = useState<string | null>(null);
  const [lastKey, setLastKey] = useState(FIRST);

  const severityOf = useCallback(
    (key: string): number => {
      const { fault, part } = faultOfKey(key);
      return severities[key] ?? usualSeverity(fault, part);
    },
    [severities],
  );

  const place = useCallback(
    (key: string, severity: number) => {
      const { fault, part } = faultOfKey(key);
      setLastKey(key);
      playback.act({ do: "placeFault", fault, part, severity });
      if (playback.store.getState().mode === "live") playback.run();
    },
    [playback],
  );

  const isPlaced = useCallback(
    (key: string): boolean => {
      const { fault, part } = faultOfKey(key);
      const faults = playback.store.getState().world?.faults ?? [];
      return faults.some((f) => f.fault === fault && f.part === part);
    },
    [playback],
  );

  const toggle = useCallback(
    (key: string) => {
      const { fault, part } = faultOfKey(key);
      if (isPlaced(key)) playback.act({ do: "removeFault", fault, part });
      else if (FAULTS[fault].neverByHand) setWaiting(key);
      else place(key, severityOf(key));
    },
    [isPlaced, place, playback, severityOf],
  );

  const changeSeverity = useCallback(
    (key: string, share: number) => {
      const severity = severityAt(key, share);
      setSeverities((s) => ({ ...s, [key]: severity }));
      if (isPlaced(key)) place(key, severity);
    },
    [isPlaced, place],
  );

  const strikeFrom = useCallback(
    (fromNs: number) => {
      const { fault, part } = faultOfKey(lastKey);
      const { world } = playback.store.getState();
      if (world === null) return;
      const at = (command: Command): void => playback.actAt(fromNs, command);
      for (const f of world.faults) at({ do: "removeFault", fault: f.fault, part: f.part });
      at({ do: "reset" });
      if (!world.operate) at({ do: "operate" });
      at({ do: "key", down: true });
      // the exciter needs its T/R sequence and a moment to settle before the next strike means anything
      playback.actAt(fromNs + SETTLE_NS, {
        do: "placeFault",
        fault,
        part,
        severity: severityOf(lastKey),
      });
      playback.run();
    },
    [lastKey, playback, severityOf],
  );

  /** Lifts the key, waits until the arc is out, and strikes again. */
  const liftAndStrike = useCallback(() => {
    const { playNs } = playback.store.getState();
    playback.act({ do: "key", down: false });
    strikeFrom(playNs + ARC_OUT_NS);
  }, [playback, strikeFrom]);

  const strikeAgain = useCallback(() => {
    const { world, mode, replaying, playNs } = playback.store.getState();
    if (world === null) return;
    const place = world.burning[0];
    if (mode === "back" || replaying) {
      // whoever looks at the past is told so, and how to get out of it
      playback.act({ do: "reset" });
    } else if (place !== undefined) {
      playback.refuse({
        text: `Not struck again: the arc at the ${PLACE_WORDS[place]} still burns. Lift the key first, or let a monitor end it.`,
        command: null,
        way: { word: "Key up, then strike again", take: liftAndStrike },
      });
    } else strikeFrom(playNs);
  }, [liftAndStrike, playback, strikeFrom]);

  return {
    severities,
    waiting,
    lastKey,
    toggle,
    changeSeverity,
    accept: () => {
      if (waiting !== null) place(waiting, severityOf(waiting));
      setWaiting(null);
    },
    cancel: () => setWaiting(null),
    strikeAgain,
  };
}

/** From key up to an arc that is out and a gap that has recovered. */
const ARC_OUT_NS = 300e6;
/** From reset to the next strike: T/R sequence, key edge, settling of the gain monitor, and some calm. */
const SETTLE_NS = 600e6;
