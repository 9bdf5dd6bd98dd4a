// Lint: strict TypeScript, and the rooms of src/. A room may import itself and the rooms named here, nothing else.
import path from "node:path";
import tseslint from "typescript-eslint";

const pure = ["bout", "statistics", "piste", "rules", "figures", "pages", "messages"];
const rooms = {
  bout: [],
  statistics: [],
  piste: ["bout", "statistics"],
  rules: ["bout", "piste"],
  figures: ["bout", "statistics", "piste", "rules"],
  pages: ["bout", "statistics", "piste", "rules", "figures"],
  messages: ["bout"],
  video: pure,
  shelf: pure,
  cli: [...pure, "video", "shelf"],
  viewer: pure,
  host: [...pure, "video", "shelf"],
};
const nodeRooms = new Set(["video", "shelf", "cli", "host"]);

/** Reports an import that leaves its room for one it may not use, or a pure room reaching for Node or VS Code. */
const roomImports = {
  meta: { type: "problem", schema: [], messages: { wrong: "{{room}}/ may not import {{target}}" } },
  create(context) {
    const src = path.join(import.meta.dirname, "src");
    const room = path.relative(src, context.filename).split(path.sep)[0];
    const allowed = rooms[room];
    if (allowed === undefined) return {};
    const check = (node) => {
      const source = node.source?.value;
      if (typeof source !== "string") return;
      let target;
      if (source.startsWith(".")) {
        const found = path
          .relative(src, path.resolve(path.dirname(context.filename), source))
          .split(path.sep)[0];
        if (found !== room && !allowed.includes(found)) target = found;
      } else if (source === "vscode") {
        if (room !== "host") target = source;
      } else if (source.startsWith("node:") || source === "fluent-ffmpeg") {
        if (!nodeRooms.has(room)) target = source;
        if (source === "fluent-ffmpeg" && !context.filename.endsWith("video/ffmpeg.ts")) target = source;
      }
      if (target !== undefined) context.report({ node, messageId: "wrong", data: { room, target } });
    };
    return {
      ImportDeclaration: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
      ImportExpression: check,
    };
  },
};

export default tseslint.config(
  {
    ignores: ["dist/**", "node_modules/**", "test/workbench/node_modules/**", ".cache/**", "test-results/**"],
  },
  {
    files: ["src/**/*.ts", "test/**/*.ts"],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: {
      parserOptions: {
        project: [
          "src/tsconfig.pure.json",
          "src/tsconfig.node.json",
          "src/tsconfig.viewer.json",
          "test/tsconfig.json",
        ],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    plugins: { boutline: { rules: { rooms: roomImports } } },
    rules: {
      "boutline/rooms": "error",
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true }],
      "@typescript-eslint/switch-exhaustiveness-check": [
        "error",
        { considerDefaultExhaustiveForUnions: true },
      ],
      "@typescript-eslint/consistent-type-imports": "error",
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
      "@typescript-eslint/no-unused-vars": ["error", { varsIgnorePattern: "^_", argsIgnorePattern: "^_" }],
      eqeqeq: "error",
      "no-console": "error",
    },
  },
  { files: ["src/cli/**", "test/**"], rules: { "no-console": "off" } },
);
