import { defineConfig } from "vitest/config";

export default defineConfig({
  // Property tests may be slow on a busy machine; a test is about what is true, never about how fast.
  test: {
    testTimeout: 120_000,
    hookTimeout: 120_000,
    include: ["test/**/*.test.ts"],
    exclude: ["test/workbench/**", "**/node_modules/**"],
  },
});
