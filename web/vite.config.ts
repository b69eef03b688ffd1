import { defineConfig } from "vite";

// Two files with fixed names: the server names them itself, and puts them into the one-file page.
export default defineConfig({
  clearScreen: false,
  logLevel: "warn",
  build: {
    target: "es2022",
    outDir: "../dieline/web/page",
    emptyOutDir: true,
    modulePreload: false,
    cssCodeSplit: false,
    reportCompressedSize: false,
    chunkSizeWarningLimit: 1000,
    rolldownOptions: {
      input: "src/main.ts",
      output: { entryFileNames: "page.js", assetFileNames: "page[extname]", codeSplitting: false },
    },
  },
});
