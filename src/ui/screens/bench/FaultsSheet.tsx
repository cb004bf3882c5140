/** Every fault in plain sentences: what it is, what it does, what gives it away, and the caution where one is due. */
import { useState } from "react";
import { FAULT_NAMES, FAULTS } from "../../../project/faults";
import { FAULT_WORDS } from "../../../project/faultWords";
import type { FaultName, PartName } from "../../../project/scenario";
import { Sheet } from "./Sheet";
import { faultOfKey } from "./views/faultEntries";
import { PART_WORDS, upperFirst } from "./views/words";

export interface FaultsSheetProps {
  /** The fault last chosen: it comes first. */
  readonly chosenKey: string;
  readonly onClose: () => void;
}

export default function FaultsSheet({ chosenKey, onClose }: FaultsSheetProps) {
  const [sought, setSought] = useState("");
  const chosen = faultOfKey(chosenKey).fault;
  const isSought = (fault: FaultName): boolean => textOf(fault).includes(sought.toLowerCase());
  const groups = groupsOf(FAULT_NAMES.filter((f) => f !== chosen && isSought(f)));
  const count = groups.reduce((n, [, faults]) => n + faults.length, isSought(chosen) ? 1 : 0);
  return (
    <Sheet title="Faults in words" onClose={onClose} wide>
      <p className="fault-search">
        <label>
          Show those that speak of{" "}
          <input
            type="text"
            ref={beginHere}
            value={sought}
            onChange={(event) => setSought(event.currentTarget.value)}
          />
        </label>{" "}
        <span className="note" role="status">
          {count} of {FAULT_NAMES.length} faults
        </span>
      </p>
      {isSought(chosen) && (
        <section>
          <h3>Chosen on the bench</h3>
          <FaultEntry fault={chosen} />
        </section>
      )}
      <div className="fault-columns">
        {groups.map(([part, faults]) => (
          <section key={part}>
            <h3>{upperFirst(PART_WORDS[part])}</h3>
            {faults.map((fault) => (
              <FaultEntry key={fault} fault={fault} />
            ))}
          </section>
        ))}
      </div>
    </Sheet>
  );
}

/** A dialog opens with its focus on what has the attribute; React's own of that name acts before it is open. */
function beginHere(field: HTMLInputElement | null): void {
  field?.setAttribute("autofocus", "");
}

function FaultEntry({ fault }: { readonly fault: FaultName }) {
  const { name, parts, severity, latent, neverByHand } = FAULTS[fault];
  const { what, does, gives, caution } = FAULT_WORDS[fault];
  return (
    <div className="fault-words">
      <h4>
        {name}
        {latent && <span className="note"> latent: shows only when its part is called upon</span>}
        {neverByHand && <span className="note"> never by hand</span>}
      </h4>
      <p className="fault-said">
        {what} {does}
      </p>
      <dl>
        <dt>Gives it away</dt>
        <dd>{gives}</dd>
        {caution !== "" && (
          <>
            <dt>Caution</dt>
            <dd>{caution}</dd>
          </>
        )}
        <dt>Placed on</dt>
        <dd>{parts.map((part) => PART_WORDS[part]).join(", ")}</dd>
        {severity.adjustable && (
          <>
            <dt>Severity</dt>
            <dd>{severity.meaning}</dd>
          </>
        )}
      </dl>
    </div>
  );
}

function textOf(fault: FaultName): string {
  const { what, does, gives, caution } = FAULT_WORDS[fault];
  const { name, parts } = FAULTS[fault];
  const where = parts.map((part) => PART_WORDS[part]);
  return [name, what, does, gives, caution, ...where].join(" ").toLowerCase();
}

/** By the part each is usually placed on, in the order of the table. */
function groupsOf(faults: readonly FaultName[]): readonly [PartName, readonly FaultName[]][] {
  const groups = new Map<PartName, FaultName[]>();
  for (const fault of faults) {
    const part = FAULTS[fault].parts[0] as PartName;
    groups.set(part, [...(groups.get(part) ?? []), fault]);
  }
  return [...groups];
}
