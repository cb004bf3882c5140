/** Shape and ranges of the tube: a triode by its law, or a registered type by its designation. */
import * as z from "zod/mini";
import { NAMED_TUBES } from "../../project/tubes";
import { anObject, quantity, record, text, whole } from "./parts";

const count = whole("", 1, 16);

const triode = record({
  kind: z.literal("triode"),
  name: text(100),
  count,
  mu: quantity("", { min: 1, max: 2000 }),
  perveanceAPerV1p5: quantity("", { min: 1e-7, max: 1 }),
  divisionRatio: quantity("", { min: 0.01, max: 100 }),
  offsetV: quantity("V", { min: -1000, max: 1000 }),
});

/** Only what `expandTube` could not turn into a triode comes here, so this never accepts anything. */
const registered = record({
  kind: z.literal("registered"),
  type: z.enum(NAMED_TUBES),
  count: z.exactOptional(count),
});

/** Of a checked project the tube is a triode. */
export const tubeSchema = z.discriminatedUnion(
  "kind",
  [triode, registered],
  anObject,
) as unknown as typeof triode;
