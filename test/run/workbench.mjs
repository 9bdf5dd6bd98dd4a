// Starts the VS Code server whose browser workbench stands in for a desktop: on a free port of this machine only,
// with folders of its own that are removed with it.
import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { get } from "node:http";
import os from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { insideTree, workbenchTree } from "./places.mjs";
import { cleanEnvironment, removeAtEnd, run, start, stop } from "./programs.mjs";

/** A quiet first start: no welcome, no chat side bar, no questions, nothing sent anywhere. */
const quietSettings = {
  "chat.disableAIFeatures": true,
  "extensions.autoCheckUpdates": false,
  "extensions.autoUpdate": "off",
  "extensions.ignoreRecommendations": true,
  "files.exclude": { "**/.vscode": true },
  "files.simpleDialog.enable": true,
  "git.openRepositoryInParentFolders": "never",
  "npm.fetchOnlinePackageInfo": false,
  "security.workspace.trust.enabled": false,
  "telemetry.telemetryLevel": "off",
  "update.mode": "none",
  "update.showReleaseNotes": false,
  "window.restoreWindows": "none",
  "workbench.enableExperiments": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "workbench.settings.enableNaturalLanguageSearch": false,
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  "workbench.welcomePage.walkthroughs.openOnInstall": false,
};

/**
 * Starts a workbench server.
 *
 * @param {object} options
 * @param {string[]} [options.extensions] packaged extensions (.vsix) to install first
 * @param {Record<string, unknown>} [options.settings] user settings beside the quiet ones
 * @param {boolean} [options.trust] asks whether a folder is trusted; without it every folder is
 * @param {boolean} [options.testDriver] lets an address name an in-editor suite to run
 * @param {Record<string, string>} [options.env] variables the extension host sees
 * @param {(text: string) => void} [options.onOutput] gets the server's own log
 */
export async function startWorkbench({
  extensions = [],
  settings = {},
  trust = false,
  testDriver = false,
  env = {},
  onOutput,
} = {}) {
  // The name stays short: the server makes a socket below, whose path may have 107 characters.
  const folder = removeAtEnd(mkdtempSync(path.join(os.tmpdir(), "boutline-")));
  const userData = path.join(folder, "data");
  mkdirSync(path.join(userData, "User"), { recursive: true });
  writeFileSync(
    path.join(userData, "User", "settings.json"),
    JSON.stringify({ ...quietSettings, ...settings }, undefined, 2),
  );

  const { node, server } = insideTree(workbenchTree);
  const folders = [
    ...["--config", path.join(folder, "config.yaml")],
    ...["--user-data-dir", userData],
    ...["--extensions-dir", path.join(folder, "extensions")],
  ];
  writeFileSync(path.join(folder, "config.yaml"), "auth: none\n");
  // The server keeps its logs and a sign of life under this folder, whatever its options say.
  const environment = cleanEnvironment({ XDG_DATA_HOME: path.join(folder, "share"), ...env });
  for (const extension of extensions) {
    const { ok, output } = await run(node, [server, ...folders, "--install-extension", extension], {
      env: environment,
      quiet: true,
      deadlineSeconds: 120,
    });
    if (!ok) throw new Error(`${extension} could not be installed:\n${output}`);
  }

  const started = start(
    node,
    [
      server,
      ...folders,
      ...["--auth", "none", "--bind-addr", "127.0.0.1:0"],
      ...["--disable-telemetry", "--disable-update-check"],
      ...(trust ? [] : ["--disable-workspace-trust"]),
      ...["--disable-getting-started-override", "--ignore-last-opened"],
      ...(testDriver ? ["--vscode-option", "enable-smoke-test-driver"] : []),
    ],
    { cwd: folder, env: environment, quiet: true, ...(onOutput ? { onOutput } : {}) },
  );
  const address = await listeningAddress(started);
  return {
    address,
    host: new URL(address).host,
    folder,
    /** Where a browser finds a folder of this machine; the payload says how it starts, as pairs of name and value. */
    addressOf(opened, payload = []) {
      const folderPart = `folder=${encodeURIComponent(opened).replaceAll("%2F", "/")}`;
      const payloadPart = payload.length > 0 ? `&payload=${encodeURIComponent(JSON.stringify(payload))}` : "";
      return `${address}?${folderPart}${payloadPart}`;
    },
    /** Resolves once a window's extensions are known. */
    ready: (deadlineSeconds) => windowReady(path.join(userData, "code-server-ipc.sock"), deadlineSeconds),
    /**
     * Opens files in a window that is ready. A file named in the address would be opened before that, as plain text,
     * since a new browser doesn't know yet that an extension has an editor for it.
     */
    async openFiles(files) {
      const { ok, output } = await run(node, [server, ...folders, "--reuse-window", ...files], {
        env: environment,
        quiet: true,
        deadlineSeconds: 60,
      });
      if (!ok) throw new Error(`${files.join(", ")} could not be opened:\n${output}`);
    },
    ended: started.ended,
    stop: () => stop(started),
  };
}

/** The server lists a window once the window's extension host runs, and that starts after the extensions are known. */
async function windowReady(socketPath, deadlineSeconds = Infinity) {
  const deadline = Date.now() + deadlineSeconds * 1000;
  for (;;) {
    const answer = await new Promise((resolve) => {
      get({ socketPath, path: "/session?filePath=/" }, (response) => {
        let text = "";
        response.setEncoding("utf8").on("data", (part) => (text += part));
        response.on("end", () => resolve(text));
      }).on("error", (error) => resolve(error.message));
    });
    if (answer.includes('"socketPath"')) return;
    if (Date.now() > deadline) throw new Error(`No window was ready after ${deadlineSeconds} s: ${answer}`);
    await pause(500);
  }
}

async function listeningAddress(started) {
  const deadline = Date.now() + 120_000;
  let ended = false;
  void started.ended.then(() => (ended = true));
  while (!ended && Date.now() < deadline) {
    const found = /listening on (http:\/\/127\.0\.0\.1:\d+)/.exec(started.output);
    if (found) return `${found[1]}/`;
    await pause(100);
  }
  await stop(started);
  throw new Error(`The VS Code server did not start:\n${started.output}`);
}
