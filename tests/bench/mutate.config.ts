/** The unit tests with one mistake planted in one module, named by QUIETARC_MISTAKE as JSON. No file is changed. */
import { mergeConfig } from "vitest/config";
import base from "../../vite.config";

interface Mistake {
  readonly file: string;
  readonly from: string;
  readonly to: string;
}

const mistake = JSON.parse(process.env.QUIETARC_MISTAKE ?? "null") as Mistake | null;

export default mergeConfig(base, {
  plugins: [
    {
      name: "planted-mistake",
      enforce: "pre" as const,
      transform(code: string, id: string) {
        if (mistake === null || !id.split("?")[0]?.endsWith(`/${mistake.file}`)) return null;
        return code.replace(mistake.from, mistake.to);
      },
    },
  ],
});
