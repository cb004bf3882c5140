import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { noticesOf, packageFolder } from "../../src/shells/node/pageBuild";
import { ROOT } from "../support/root";

const read = (path: string): string => readFileSync(resolve(ROOT, path), "utf8");

describe("the notices of what the page contains", () => {
  it("are found through the package folder of each bundled module", () => {
    expect(packageFolder("/p/node_modules/react/index.js")).toBe("/p/node_modules/react");
    expect(packageFolder("/p/node_modules/@stdlib/ln/lib/a.js")).toBe("/p/node_modules/@stdlib/ln");
    expect(packageFolder("/p/node_modules/a/node_modules/b/c.js")).toBe(
      "/p/node_modules/a/node_modules/b",
    );
    expect(packageFolder("\0/p/node_modules/react/index.js?commonjs")).toBe(
      "/p/node_modules/react",
    );
    expect(packageFolder("/p/src/math/elementary.ts")).toBeNull();
  });

  it("give each licence once, under all packages it covers, with the font's", () => {
    const folder = (name: string): string => resolve(ROOT, "node_modules", name);
    const text = noticesOf(
      ["react", "react-dom", "@fontsource-variable/archivo"].map((name) => folder(name)),
    );
    expect(text.match(/Permission is hereby granted, free of charge/g)).toHaveLength(1 + 1); // MIT once, OFL once
    expect(text).toMatch(/react 19\.\S+\nreact-dom 19\./);
    expect(text).toContain("SIL Open Font License");
  });
});

describe("the content policy", () => {
  const policy = /http-equiv="Content-Security-Policy"\s+content="([^"]*)"/.exec(
    read("index.html"),
  )?.[1];

  it("lets nothing in from elsewhere and nothing run from text", () => {
    expect(policy).toContain("default-src 'self'");
    expect(policy).toContain("style-src 'self';");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
  });
});
