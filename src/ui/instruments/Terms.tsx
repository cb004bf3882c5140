/** Words of the trade that stand on the sheet without room for an explanation, each in a sentence; opened by a button. */
import { Suspense } from "react";
import { later } from "./later";
import { TableReveal } from "./TableReveal";

const TermList = later(() => import("./TermList"));

export function Terms() {
  return (
    <TableReveal label="Words on this sheet" word="Words">
      <Suspense fallback={null}>
        <TermList />
      </Suspense>
    </TableReveal>
  );
}
