/** Parts and the places at which an arc can burn. */
import type { PartName } from "./scenario";
import type { ArcPlace } from "./station";

/** Where an arc on this part burns; null for parts that have no gap. */
export function arcPlaceOf(part: PartName): ArcPlace | null {
  switch (part) {
    case "tuningCapacitor":
    case "loadingCapacitor":
      return part;
    case "bandSwitch":
      return "coilTap";
    case "outputContact":
      return "beyondCoupler";
    default:
      return null;
  }
}
