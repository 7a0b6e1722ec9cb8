/* What is a mistake in a script of ours, and no taste. The scripts are classic: each lies in a function of its own and meets the others on `window`. */
import js from "@eslint/js";
import globals from "globals";

export default [
  { ignores: ["**/qr.js", "**/minisearch.js"] }, // other people's, as they came
  { ignores: ["**/qr.js"] }, // as it was published
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  js.configs.recommended,
  {
    files: ["**/*.js"],
    languageOptions: { ecmaVersion: 2022, sourceType: "script", globals: { ...globals.browser, module: "writable", require: "readonly" } },
    rules: {
      eqeqeq: "error", "no-var": "error", "prefer-const": "error", "no-eval": "error", "no-implied-eval": "error", "no-new-func": "error", "no-throw-literal": "error",
      "no-self-compare": "error", "no-shadow-restricted-names": "error", "array-callback-return": "error", "default-case-last": "error",
      "no-constructor-return": "error", "no-control-regex": "off", "no-unused-vars": ["error", { caughtErrors: "none", argsIgnorePattern: "^_+$", ignoreRestSiblings: true }],
    },
  },
  { files: ["**/sw.js"], languageOptions: { globals: { ...globals.serviceworker, __FILES__: "readonly", __TYPES__: "readonly" } } },
  { files: ["tests/**/*.js"], languageOptions: { sourceType: "commonjs", globals: globals.node } },
];
