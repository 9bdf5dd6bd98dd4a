// The page of each rule, as it ships, read as a page: what a finding's link opens.

import * as vscode from "vscode";
import { isRuleId, pageOf } from "../rules";
import { ruleScheme } from "./bout-file";

/** A command would do in the Problems panel, but hovers and the peek at a problem run none. */
export function linkToRule(rule: string): vscode.Uri {
  return vscode.Uri.from({ scheme: ruleScheme, path: `/${pageOf(rule)}` });
}

/** Gives out nothing but the pages of rules, so that no link can open another file. */
export async function rulePage(extension: vscode.Uri, { path }: vscode.Uri): Promise<string> {
  const rule = path.replace(/^\//, "").replace(/\.md$/, "");
  if (!isRuleId(rule)) return "There is no such rule.";
  const page = vscode.Uri.joinPath(extension, "media", "rules", pageOf(rule));
  return new TextDecoder("utf-8").decode(await vscode.workspace.fs.readFile(page));
}
