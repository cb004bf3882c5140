/** The caution before a fault nobody should ever try by hand. Comes after the first picture, with the words of all faults. */

import { FAULTS } from "../../../project/faults";
import { FAULT_WORDS } from "../../../project/faultWords";
import { CautionDialog } from "../../instruments/controls/CautionDialog";
import type { FaultActions } from "./useFaultActions";
import { faultOfKey } from "./views/faultEntries";

export interface FaultCautionProps {
  readonly faults: FaultActions;
  readonly onClose: () => void;
}

export default function FaultCaution({ faults, onClose }: FaultCautionProps) {
  const { waiting, accept } = faults;
  return <CautionDialog caution={cautionOf(waiting)} onAccept={accept} onCancel={onClose} />;
}

function cautionOf(waiting: string | null) {
  if (waiting === null) return null;
  const { fault } = faultOfKey(waiting);
  const { what, does, caution } = FAULT_WORDS[fault];
  return {
    title: `Never by hand: ${FAULTS[fault].name.toLowerCase()}`,
    paragraphs: [
      `${what} ${does}`,
      caution,
      "Here it is only computed. Local codes, licence conditions and qualified people decide what is done to real equipment.",
    ].filter((p) => p !== ""),
    acceptWord: "Place it on the bench",
    cancelWord: "Leave it",
  };
}
