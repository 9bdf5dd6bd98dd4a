// Where ffmpeg's programs are on this machine, and how to get them.

import { constants, readFileSync } from "node:fs";
import { access, stat } from "node:fs/promises";
import os from "node:os";
import path from "node:path";

/** Full path of a program: `setting` if it is one, else the first of that name on PATH; undefined if there is none. */
export async function locate(name: string, setting: string | undefined): Promise<string | undefined> {
  if (setting !== undefined) return (await isProgram(setting)) ? setting : undefined;
  const file = process.platform === "win32" ? `${name}.exe` : name;
  for (const folder of (process.env["PATH"] ?? "").split(path.delimiter)) {
    const candidate = path.join(folder, file);
    if (await isProgram(candidate)) return candidate;
  }
  return undefined;
}

/** Only full paths: a relative one, on PATH or in the settings, could mean a program that came with a workspace. */
async function isProgram(file: string): Promise<boolean> {
  if (!path.isAbsolute(file)) return false;
  try {
    await access(file, constants.X_OK);
    return (await stat(file)).isFile();
  } catch {
    return false;
  }
}

/** Tells the user of this machine how to install ffmpeg, which brings ffprobe. Package names from memory. */
export function installAdvice(platform: NodeJS.Platform = process.platform): string {
  return `Install ffmpeg: ${installCommand(platform)}, then open the bout again.`;
}

function installCommand(platform: NodeJS.Platform): string {
  if (platform === "win32") return "winget install --id Gyan.FFmpeg";
  if (platform === "darwin") return "brew install ffmpeg";
  const family = linuxFamily();
  if (/\b(fedora|rhel|centos)\b/.test(family)) return "sudo dnf install ffmpeg-free";
  if (/\barch\b/.test(family)) return "sudo pacman -S ffmpeg";
  if (/\bsuse\b/.test(family)) return "sudo zypper install ffmpeg";
  return "sudo apt install ffmpeg";
}

/** The distribution and those it descends from, as os-release(5) has them. */
function linuxFamily(): string {
  try {
    return (readFileSync("/etc/os-release", "utf8").match(/^ID(_LIKE)?=.*$/gm) ?? []).join(" ");
  } catch {
    return os.type();
  }
}
