import * as vscode from "vscode";
import { test } from "./run";

test("The view of the bouts can be shown, and its commands are there", async () => {
  await vscode.commands.executeCommand("boutline.bouts.focus");
  await vscode.commands.executeCommand("boutline.readBoutsAgain");
});
