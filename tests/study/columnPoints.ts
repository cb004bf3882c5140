/** Columns of a registered type as points to be fitted. */
import type { RegisteredTube } from "../../src/project/registeredTube";
import type { OperationPoint } from "../../src/study/tubePoints";

export function columnPoints(tube: RegisteredTube): readonly OperationPoint[] {
  return tube.columns.map((column) => ({
    kind: "operation",
    tubes: column.tubes,
    plateV: column.plateV.value,
    cathodeV: column.cathodeV.value,
    plateCurrentA: column.plateCurrentA.value,
    plateLoadOhm: column.plateLoadOhm?.value ?? null,
    idleA: column.idleA?.value ?? null,
    gridCurrentA: column.gridCurrentA?.value ?? null,
    driveW: column.driveW?.value ?? null,
    outputW: column.outputW?.value ?? null,
  }));
}
