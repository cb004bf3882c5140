/** Everything of one monitor, in the order of its chain: what it reads, when it picks up, what it then does. */
import { type ReactNode, useState } from "react";
import { MONITOR_STANDING } from "../../../project/presets/standing";
import type { ActuatorName, Condition, MonitorDef } from "../../../project/protection";
import { withCriterion } from "../../../state/monitorEdit";
import { type FieldPath, valueAt, withValue } from "../../../state/stationKinds";
import type { FieldHelp } from "../../forms/Fields";
import { FormItems } from "../../forms/FormItems";
import { Refusal } from "../../forms/Refusal";
import { STEP_WORDS, upperFirst } from "../bench/views/words";
import { choiceWord, DEVICES, projectFields } from "./monitorFields";
import { setProject, useEdit, useMonitors } from "./monitorsContext";

const ACTUATORS: readonly ActuatorName[] = [
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
  "crowbar",
];

export function MonitorEditor({ index }: { readonly index: number }) {
  const project = useEdit((s) => s.project);
  const [help, setHelp] = useState<FieldHelp | null>(null);
  const def = project.monitors[index];
  if (def === undefined) return null;
  const at: FieldPath = ["monitors", index];
  const fields = (path: FieldPath, names: readonly string[]) => (
    <FormItems
      items={projectFields(project, [...at, ...path], names)}
      section={def.name}
      onHelp={setHelp}
    />
  );
  return (
    <div className="monitor-editor">
      <div className="monitor-parts">
        <Part title="Monitor">
          {fields([], ["name", "deviceNumber"])}
          <p className="field-note">{deviceNote(def)}</p>
          {fields([], ["tuneRole"])}
        </Part>
        <Part title="Filter and scan">{fields([], ["path", "smoothingS", "scanS"])}</Part>
        {def.criteria.map((_, k) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: criteria have no name of their own
          <CriterionPart key={k} index={index} criterion={k} onHelp={setHelp} />
        ))}
        <Part title="Arming">
          {fields(["arming"], armingNames(def))}
          {fields([], ["blankingS"])}
          <Conditions
            path={[...at, "arming", "when"]}
            section={`${def.name}, arming`}
            onHelp={setHelp}
          />
        </Part>
        <AlarmPart index={index} onHelp={setHelp} />
        <Part title="Action">
          <Actions index={index} />
        </Part>
        <Part title="Reset">
          {fields(["reset"], resetNames(def))}
          <Conditions
            path={[...at, "reset", "when"]}
            section={`${def.name}, reset`}
            onHelp={setHelp}
          />
        </Part>
      </div>
      <p className="field-help">
        {help === null ? (
          (MONITOR_STANDING[def.id] ?? "Set in this project. Prefixes are read: 5m, 0,15 kV.")
        ) : (
          <>
            <b>{help.label}</b> {help.words}
          </>
        )}
      </p>
    </div>
  );
}

function deviceNote({ deviceNumber }: MonitorDef): string {
  const known = DEVICES.find(([number]) => number === deviceNumber);
  if (known !== undefined) return `${known[0]}: ${known[1]}`;
  return deviceNumber === "" ? "Left empty where no number fits." : "A number of one's own.";
}

/** What counts in the chosen kind of arming and reset; the rest keeps its value unseen. */
function armingNames({ arming }: MonitorDef): readonly string[] {
  const onAir = arming.kind === "onAir" ? ["driveAboveW", "settledS", "holdS"] : [];
  return ["kind", ...onAir, "afterSupplyReadyS"];
}

function resetNames({ reset }: MonitorDef): readonly string[] {
  if (reset.kind === "lockout") return ["kind"];
  const self = reset.kind === "self" ? ["afterS", "tries", "withinS"] : [];
  return ["kind", ...self, "repeatWithinS"];
}

function Part({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <fieldset className="form-group monitor-part">
      <legend>{title}</legend>
      {children}
    </fieldset>
  );
}

interface PartProps {
  readonly index: number;
  readonly onHelp: (help: FieldHelp | null) => void;
}

function CriterionPart({ index, criterion, onHelp }: PartProps & { readonly criterion: number }) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const [refusal, setRefusal] = useState("");
  const def = project.monitors[index] as MonitorDef;
  const path: FieldPath = ["monitors", index, "criteria", criterion];
  const many = def.criteria.length > 1;
  const title = many ? `Criterion ${criterion + 1}` : "Criterion";
  const section = many ? `${def.name}, criterion ${criterion + 1}` : def.name;
  const put = (next: MonitorDef, what: string): void => {
    const words = { field: `${def.name}, ${what}`, from: "", to: "" };
    setRefusal(setProject(edit, withValue(project, ["monitors", index], next), words));
  };
  const isLast = criterion === def.criteria.length - 1;
  return (
    <Part title={title}>
      <FormItems
        items={projectFields(project, path, [
          "quantity",
          "side",
          "pickup",
          "dropOff",
          "tunePickup",
        ])}
        section={section}
        onHelp={onHelp}
      />
      <FormItems
        items={projectFields(project, [...path, "timing"])}
        section={section}
        onHelp={onHelp}
      />
      <Conditions path={[...path, "when"]} section={section} onHelp={onHelp} />
      <div className="field-buttons">
        {many && (
          <button
            type="button"
            className="button small"
            onClick={() => {
              const criteria = def.criteria.filter((_, k) => k !== criterion);
              put({ ...def, criteria }, `criterion ${criterion + 1} removed`);
            }}
          >
            Remove criterion {criterion + 1}
          </button>
        )}
        {isLast && def.path === "scanned" && (
          <button
            type="button"
            className="button small"
            onClick={() => put(withCriterion(def), "criterion added")}
          >
            Add a criterion
          </button>
        )}
      </div>
      <Refusal words={refusal} />
    </Part>
  );
}

interface ConditionsProps {
  readonly path: FieldPath;
  readonly section: string;
  readonly onHelp: (help: FieldHelp | null) => void;
}

const FIRST_CONDITION: Condition = { quantity: "driveForwardW", side: "over", level: 5 };

/** Further conditions, all of which must hold. */
function Conditions({ path, section, onHelp }: ConditionsProps) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const conditions = valueAt(project, path) as readonly Condition[];
  const put = (next: readonly Condition[], what: string): void => {
    const words = { field: `${section}, ${what}`, from: "", to: "" };
    setProject(edit, withValue(project, path, next), words);
  };
  return (
    <>
      {conditions.map((_, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: conditions have no name of their own
        <fieldset key={k} className="condition">
          <legend>Only while</legend>
          <FormItems
            items={projectFields(project, [...path, k])}
            section={`${section}, condition ${k + 1}`}
            onHelp={onHelp}
          />
          <button
            type="button"
            className="button small"
            onClick={() =>
              put(
                conditions.filter((__, i) => i !== k),
                "condition removed",
              )
            }
          >
            Remove condition
          </button>
        </fieldset>
      ))}
      <div className="field-buttons">
        <button
          type="button"
          className="button small"
          onClick={() => put([...conditions, FIRST_CONDITION], "condition added")}
        >
          Add a condition
        </button>
      </div>
    </>
  );
}

function AlarmPart({ index, onHelp }: PartProps) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const def = project.monitors[index] as MonitorDef;
  const put = (alarm: MonitorDef["alarm"], what: string): void => {
    const words = { field: `${def.name}, ${what}`, from: "", to: "" };
    setProject(edit, withValue(project, ["monitors", index, "alarm"], alarm), words);
  };
  const [first] = def.criteria;
  return (
    <Part title="Alarm">
      {def.alarm === null ? (
        <p className="field-note">It gives no warning before it operates.</p>
      ) : (
        <FormItems
          items={projectFields(project, ["monitors", index, "alarm"])}
          section={`${def.name}, alarm`}
          onHelp={onHelp}
        />
      )}
      <div className="field-buttons">
        <button
          type="button"
          className="button small"
          disabled={first === undefined}
          onClick={() => {
            if (def.alarm !== null) put(null, "alarm removed");
            else if (first !== undefined) {
              const { quantity, side, pickup, dropOff } = first;
              const level = 0.5 * (pickup + dropOff);
              put({ quantity, side, level, delayS: 0.5 }, "alarm added");
            }
          }}
        >
          {def.alarm === null ? "Add an alarm" : "Remove the alarm"}
        </button>
      </div>
    </Part>
  );
}

function Actions({ index }: { readonly index: number }) {
  const { edit } = useMonitors();
  const project = useEdit((s) => s.project);
  const [refusal, setRefusal] = useState("");
  const def = project.monitors[index] as MonitorDef;
  const toggle = (actuator: ActuatorName, isOn: boolean): void => {
    const actions = ACTUATORS.filter((a) => (a === actuator ? isOn : def.actions.includes(a)));
    const words = {
      field: `${def.name}, ${STEP_WORDS[actuator]}`,
      from: isOn ? "not asked" : "asked",
      to: isOn ? "asked" : "not asked",
    };
    setRefusal(
      setProject(edit, withValue(project, ["monitors", index, "actions"], actions), words),
    );
  };
  return (
    <>
      {ACTUATORS.map((actuator) => (
        <label key={actuator} className="action">
          <input
            type="checkbox"
            checked={def.actions.includes(actuator)}
            onChange={(event) => toggle(actuator, event.currentTarget.checked)}
          />
          {upperFirst(STEP_WORDS[actuator])}
        </label>
      ))}
      <p className="field-note">
        {def.role === "acting"
          ? "The commands go out together."
          : `As long as it is ${choiceWord(def.role)}, it asks for nothing.`}
      </p>
      <Refusal words={refusal} />
    </>
  );
}
