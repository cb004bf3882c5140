/** The model notes, read by the build from the sources they describe. Loaded when first opened. */
import notes from "../../../physics/README.md?notes";
import { Sheet } from "./Sheet";

export default function NotesSheet({ onClose }: { readonly onClose: () => void }) {
  return (
    <Sheet title="Model notes" onClose={onClose} wide>
      {/* made by our own build from our own file: no foreign markup can get in */}
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: text of this repository, converted at build time */}
      <div className="notes" dangerouslySetInnerHTML={{ __html: notes }} />
    </Sheet>
  );
}
