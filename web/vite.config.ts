import { defineConfig } from "vite";

// The page is served by roundhand itself, under one policy: everything from its own place, nothing inlined.
export default defineConfig({
  base: "/",
  build: {
    outDir: "dist",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: "es2022",
    chunkSizeWarningLimit: 700,
  },
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
});
