import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["src/**/*.test.ts", "checks/**/*.check.ts", "examples/**/*.test.ts", "test/**/*.test.ts"],
    environment: "node",
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
