/** Sensors and actuators of the project, one beside the other. */
import { useState } from "react";
import type { ActuatorName } from "../../../project/protection";
import { QUANTITY_WORDS } from "../../../protection/quantityWords";
import { SENSOR_NAMES } from "../../../protection/sensing/sensing";
import type { FieldHelp } from "../../forms/Fields";
import { FormItems } from "../../forms/FormItems";
import type { FormItem } from "../../forms/formTree";
import { STEP_WORDS, upperFirst } from "../bench/views/words";
import { projectFields } from "./monitorFields";
import { useEdit } from "./monitorsContext";

const ACTUATORS: readonly ActuatorName[] = [
  "driveInhibit",
  "cathodeCutoff",
  "transmitReceive",
  "contactor",
  "crowbar",
];

interface Part {
  readonly path: readonly string[];
  readonly title: string;
}

const PARTS: Readonly<Record<"sensors" | "actuators", readonly Part[]>> = {
  sensors: [
    ...SENSOR_NAMES.map((name) => ({
      path: ["sensors", name],
      title: upperFirst(QUANTITY_WORDS[name].words),
    })),
    { path: ["sensors", "comparatorTap"], title: "Comparator's tap" },
  ],
  actuators: ACTUATORS.map((name) => ({
    path: ["actuators", name],
    title: upperFirst(STEP_WORDS[name]),
  })),
};

const FIRST_HELP = {
  sensors: "A change acts on every monitor that reads the sensor. Prefixes are read: 0.2m, 2,5k.",
  actuators: "A run uses the delay; the budget takes its earliest and latest.",
} as const;

const COUPLERS = ["driveForwardW", "driveReflectedW", "outputForwardW", "outputReflectedW"];

/** Only a coupler has a directivity. */
function isOfPart({ path }: FormItem): boolean {
  return path.at(-1) !== "directivityDb" || COUPLERS.includes(String(path[1]));
}

export function ProtectionFields({ of }: { readonly of: "sensors" | "actuators" }) {
  const project = useEdit((s) => s.project);
  const [help, setHelp] = useState<FieldHelp | null>(null);
  return (
    <>
      <div className="monitor-parts">
        {PARTS[of].map(({ path, title }) => (
          <fieldset key={title} className="form-group monitor-part">
            <legend>{title}</legend>
            <FormItems
              items={projectFields(project, path).filter(isOfPart)}
              section={title}
              onHelp={setHelp}
            />
          </fieldset>
        ))}
      </div>
      <p className="field-help">
        {help === null ? (
          FIRST_HELP[of]
        ) : (
          <>
            <b>{help.label}</b> {help.words}
          </>
        )}
      </p>
    </>
  );
}
