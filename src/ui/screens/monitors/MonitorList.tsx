/** The monitors as rows that read like their chains; the one that is opened is edited in its place. */
import { type ReactNode, useEffect, useId, useRef, useState } from "react";
import type { MonitorDef, MonitorRole } from "../../../project/protection";
import { whyKept, withCopy, withNew } from "../../../state/monitorEdit";
import { chainOf } from "./chainWords";
import { MonitorEditor } from "./MonitorEditor";
import { choiceWord, DEVICES } from "./monitorFields";
import { setProject, useEdit, useMonitors } from "./monitorsContext";

export interface MonitorListProps {
  /** Id of the monitor that is open, empty for none. */
  readonly open: string;
  readonly onOpen: (id: string) => void;
  readonly onSaid: (words: string) => void;
  /** What stands under the editor of the open one. */
  readonly below: ReactNode;
}

const ROLES: readonly MonitorRole[] = ["acting", "shadow", "off"];

export function MonitorList({ open, onOpen, onSaid, below }: MonitorListProps) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const { monitors } = project;
  const list = useRef<HTMLOListElement | null>(null);
  const added = useRef("");
  // a new row is often below the fold: it is brought into sight and takes the focus
  useEffect(() => {
    const index = monitors.findIndex((m) => m.id === added.current);
    if (index < 0 || open !== added.current) return;
    added.current = "";
    const row = list.current?.children[index];
    row?.scrollIntoView({ block: "start" });
    row?.querySelector<HTMLElement>(".monitor-name")?.focus({ preventScroll: true });
  }, [monitors, open]);
  const openAdded = (id: string): void => {
    added.current = id;
    onOpen(id);
  };
  const add = (): void => {
    const placed = withNew(monitors);
    const made = placed.monitors[placed.index];
    setProject(edit, { ...project, monitors: placed.monitors }, step(`${made?.name} added`));
    openAdded(made?.id ?? "");
    onSaid(`${made?.name} added, in shadow.`);
  };
  return (
    <>
      <ol className="monitor-rows" ref={list}>
        {monitors.map((def, index) => (
          <MonitorRow
            key={def.id}
            def={def}
            index={index}
            isOpen={def.id === open}
            onOpen={onOpen}
            onAdded={openAdded}
            onSaid={onSaid}
            below={def.id === open ? below : null}
          />
        ))}
      </ol>
      <div className="field-buttons">
        <button type="button" className="button" onClick={add}>
          Add a monitor
        </button>
      </div>
    </>
  );
}

function step(field: string) {
  return { field, from: "", to: "" };
}

interface MonitorRowProps extends Pick<MonitorListProps, "onOpen" | "onSaid" | "below"> {
  readonly def: MonitorDef;
  readonly index: number;
  readonly isOpen: boolean;
  /** Opens a copy that was just made. */
  readonly onAdded: (id: string) => void;
}

function MonitorRow({ def, index, isOpen, onOpen, onAdded, onSaid, below }: MonitorRowProps) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const id = useId();
  const [refusal, setRefusal] = useState("");
  const { monitors, sensors } = project;
  const device = DEVICES.find(([number]) => number === def.deviceNumber);
  const setRole = (role: MonitorRole): void => {
    const next = monitors.map((m, k) => (k === index ? { ...m, role } : m));
    const words = { field: `${def.name}, acts`, from: choiceWord(def.role), to: choiceWord(role) };
    setRefusal(setProject(edit, { ...project, monitors: next }, words));
  };
  const copy = (): void => {
    const placed = withCopy(monitors, index);
    const added = placed?.monitors[placed.index];
    if (placed === null || added === undefined) return;
    setProject(edit, { ...project, monitors: placed.monitors }, step(`${added.name} added`));
    onAdded(added.id);
    onSaid(`${def.name} copied as ${added.name}, in shadow.`);
  };
  const remove = (): void => {
    const kept = whyKept(project, index);
    setRefusal(kept);
    if (kept !== "") return;
    const next = monitors.filter((_, k) => k !== index);
    setProject(edit, { ...project, monitors: next }, step(`${def.name} deleted`));
    onOpen("");
    onSaid(`${def.name} deleted; undo brings it back.`);
  };
  return (
    <li className={`monitor-row ${def.role}${isOpen ? " open" : ""}`}>
      <div className="monitor-head">
        <h3>
          <button
            type="button"
            className="monitor-name"
            aria-expanded={isOpen}
            aria-controls={`${id}-editor`}
            onClick={() => onOpen(isOpen ? "" : def.id)}
          >
            {def.name}
          </button>
          <small title={device?.[1]}>
            {def.deviceNumber === "" ? "" : `${def.deviceNumber} ${device?.[1] ?? ""}`}
          </small>
        </h3>
        <select
          aria-label={`${def.name} acts`}
          value={def.role}
          onChange={(event) => setRole(event.currentTarget.value as MonitorRole)}
        >
          {ROLES.map((role) => (
            <option key={role} value={role}>
              {role}
            </option>
          ))}
        </select>
      </div>
      <dl className="chain">
        {chainOf(def, sensors).map(({ stage, lines }) => (
          <div key={stage} className="chain-link">
            <dt>{stage}</dt>
            {lines.map((line, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: lines have no name of their own
              <dd key={k}>{line}</dd>
            ))}
          </div>
        ))}
      </dl>
      {refusal !== "" && (
        <p className="field-says" role="alert">
          {refusal}
        </p>
      )}
      <div id={`${id}-editor`}>
        {isOpen && (
          <>
            <MonitorEditor index={index} />
            <div className="field-buttons">
              <button type="button" className="button" onClick={copy}>
                Copy this monitor
              </button>
              <button
                type="button"
                className="button"
                disabled={monitors.length < 2}
                onClick={remove}
              >
                Delete this monitor
              </button>
            </div>
            {below}
          </>
        )}
      </div>
    </li>
  );
}
