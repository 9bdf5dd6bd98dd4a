// The page of each rule, as it ships, read as a page: what a finding's link opens.

import * as vscode from "vscode";
import { isRuleId, pageOf } from "../rules";

const command = "boutline.showRule";

/** Only a command can open a page as a page; a link to the file itself would show its source. */
export function linkToRule(rule: string): vscode.Uri {
  return vscode.Uri.parse(`command:${command}?${encodeURIComponent(JSON.stringify([rule]))}`);
}

/** Takes nothing but the name of a rule, so that no link can open another file. */
export function rulePages({ extensionUri }: vscode.ExtensionContext): vscode.Disposable {
  return vscode.commands.registerCommand(command, async (rule: unknown) => {
    if (typeof rule !== "string" || !isRuleId(rule)) return;
    const page = vscode.Uri.joinPath(extensionUri, "media", "rules", pageOf(rule));
    await vscode.commands.executeCommand("markdown.showPreview", page);
  });
}
