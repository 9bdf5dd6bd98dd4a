// The rows of the view "Bouts" as VS Code draws them, and which bouts a command means that was run on some of them.

import * as vscode from "vscode";
import { weaponName } from "../bout/words";
import { counted } from "../pages/numbers";
import type { BoutRow } from "../shelf";
import {
  badgeCounts,
  badgeKinds,
  badgeOf,
  boutDescription,
  boutLabel,
  hasMissing,
  nameOf,
  toDo,
  type BoutGroup,
  type Remark,
  type Suggestion,
} from "./bouts-view";

export type BoutNode =
  /** `open`: its bouts show at once, since there are few. */
  | { readonly is: "group"; readonly group: BoutGroup; readonly open: boolean }
  | { readonly is: "bout"; readonly bout: BoutRow; readonly under: string }
  | { readonly is: "remarks"; readonly remarks: readonly Remark[] }
  | { readonly is: "remark"; readonly remark: Remark };

export function itemOf(node: BoutNode): vscode.TreeItem {
  switch (node.is) {
    case "group":
      return groupItem(node.group, node.open);
    case "bout":
      return boutItem(node.bout, node.under);
    case "remarks": {
      const item = new vscode.TreeItem("To look at", vscode.TreeItemCollapsibleState.Collapsed);
      item.id = "remarks";
      item.description = String(node.remarks.length);
      item.iconPath = new vscode.ThemeIcon("eye");
      item.tooltip = "Files that hold no bout, and what may be one person or one bout written twice.";
      return item;
    }
    case "remark":
      return remarkItem(node.remark);
  }
}

function groupItem({ key, label, bouts, fencer }: BoutGroup, open: boolean): vscode.TreeItem {
  const { Collapsed, Expanded } = vscode.TreeItemCollapsibleState;
  const item = new vscode.TreeItem(label, open ? Expanded : Collapsed);
  // VS Code remembers by the id what was folded.
  item.id = `${open ? "open group" : "group"} ${key}`;
  item.description = counted(bouts.length, "bout");
  item.contextValue = `group${fencer === undefined ? "" : " fencer"}${bouts.some(hasMissing) ? " missing" : ""}`;
  return item;
}

function remarkItem({ label, description, file, suggestion }: Remark): vscode.TreeItem {
  const { Collapsed, None } = vscode.TreeItemCollapsibleState;
  const item = new vscode.TreeItem(label, suggestion === undefined ? None : Collapsed);
  item.description = description;
  item.tooltip = `${label}: ${description}`;
  if (suggestion !== undefined) {
    item.id = `suggestion ${suggestion.key}`;
    item.iconPath = new vscode.ThemeIcon("question");
    item.contextValue = `suggestion ${suggestion.is}`;
    return item;
  }
  item.iconPath = new vscode.ThemeIcon("circle-slash");
  if (file !== undefined)
    item.command = {
      title: "Open the text",
      command: "vscode.openWith",
      arguments: [vscode.Uri.file(file), "default"],
    };
  return item;
}

function boutItem(bout: BoutRow, under: string): vscode.TreeItem {
  const item = new vscode.TreeItem(boutLabel(bout));
  const uri = vscode.Uri.file(bout.file);
  item.id = `bout ${under} ${bout.file}`;
  item.description = boutDescription(bout);
  item.contextValue = hasMissing(bout) ? "bout missing" : "bout";
  item.iconPath = new vscode.ThemeIcon(iconOf(bout));
  item.resourceUri = badgeUri(bout);
  const facts = [
    bout.title,
    bout.event,
    bout.round,
    bout.date,
    weaponName(bout.weapon),
    counted(bout.phrases, "phrase"),
  ].filter((fact) => fact !== undefined);
  item.tooltip = [boutLabel(bout), facts.join(", "), ...toDo(bout), bout.file].join("\n");
  item.accessibilityInformation = {
    label: [boutLabel(bout), ...toDo(bout), ...facts, nameOf(bout.file)].join(", "),
  };
  item.command = { title: "Open the viewer", command: "boutline.openViewer", arguments: [uri] };
  return item;
}

function iconOf(bout: BoutRow): string {
  if (bout.findings.error > 0) return "error";
  if (bout.findings.warning > 0) return "warning";
  if (hasMissing(bout)) return "debug-disconnect";
  return bout.uncalled > 0 ? "circle-outline" : "pass";
}

/** Badges hang on addresses; this one says what there is to count. */
const badgeScheme = "boutline-badges";

function badgeUri(bout: BoutRow): vscode.Uri {
  const counts = badgeCounts(bout);
  return vscode.Uri.file(bout.file).with({
    scheme: badgeScheme,
    query: badgeKinds.map((kind) => counts[kind]).join("."),
  });
}

/** The badges of the rows, a provider for each kind, since one provider gives one badge. */
export function boutBadges(): vscode.Disposable {
  return vscode.Disposable.from(
    ...badgeKinds.map((kind, index) =>
      vscode.window.registerFileDecorationProvider({
        provideFileDecoration({ scheme, query }) {
          if (scheme !== badgeScheme) return undefined;
          const badge = badgeOf(kind, Number(query.split(".")[index] ?? 0));
          return badge && new vscode.FileDecoration(badge.text, badge.tooltip);
        },
      }),
    ),
  );
}

/** The bouts a command of the view means: those of the rows selected, else of the row it was run on. Each once. */
export function boutsMeant([node, nodes]: readonly unknown[]): readonly BoutRow[] {
  const rows = Array.isArray(nodes) && nodes.includes(node) ? (nodes as readonly unknown[]) : [node];
  return [...new Set(rows.flatMap((row) => (isBoutNode(row) ? boutsOf(row) : [])))];
}

/** The suggestion a command was run on. */
export function suggestionMeant(node: unknown): Suggestion | undefined {
  return isBoutNode(node) && node.is === "remark" ? node.remark.suggestion : undefined;
}

function boutsOf(node: BoutNode): readonly BoutRow[] {
  switch (node.is) {
    case "group":
      return node.group.bouts;
    case "bout":
      return [node.bout];
    case "remarks":
      return [];
    case "remark":
      return node.remark.suggestion?.bouts ?? [];
  }
}

/** VS Code hands back the rows it was given; anything else comes from somebody's keybinding. */
function isBoutNode(value: unknown): value is BoutNode {
  if (typeof value !== "object" || value === null || !("is" in value)) return false;
  const inside: Readonly<Record<string, string>> = {
    group: "group",
    bout: "bout",
    remarks: "remarks",
    remark: "remark",
  };
  const field = inside[String(value.is)];
  return field !== undefined && field in value;
}
