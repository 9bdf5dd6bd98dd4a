import { expect, test } from "vitest";
import { liesInside, recordingSteps, relativePath } from "../../src/host/recording-path";

test("A recording is a relative path with forward slashes", () => {
  expect(recordingSteps("harbour-qf.mp4")).toEqual({ ok: true, value: ["harbour-qf.mp4"] });
  expect(recordingSteps("./day 1//piste 3/qf.mp4")).toEqual({
    ok: true,
    value: ["day 1", "piste 3", "qf.mp4"],
  });
  expect(recordingSteps("../videos/a:b.mp4")).toEqual({ ok: true, value: ["..", "videos", "a:b.mp4"] });
  expect(recordingSteps("-x.mp4").ok).toBe(true);
});

test("Addresses, absolute paths, devices and folders are refused, each with its reason", () => {
  const refused: readonly (readonly [string, RegExp])[] = [
    ["https://example.invalid/a.mp4", /is an address/],
    ["file:///etc/passwd", /is an address/],
    ["rtsp://camera", /is an address/],
    ["/home/a.mp4", /absolute path/],
    ["C:/a.mp4", /absolute path/],
    ["C:a.mp4", /absolute path/],
    ["\\\\server\\share\\a.mp4", /absolute path/],
    ["videos\\a.mp4", /backslash/],
    ["NUL", /device/],
    ["videos/com1.mp4", /device/],
    ["videos/", /folder/],
    ["..", /folder/],
    [".", /folder/],
    ["", /no file name/],
    ["a\0.mp4", /can't be a file's/],
  ];
  for (const [file, why] of refused) {
    const result = recordingSteps(file);
    expect(result.ok ? `${file} was taken` : result.problem).toMatch(why);
  }
});

test("A file lies inside a folder, not inside one whose name only begins alike", () => {
  expect(liesInside("/bouts/a/b.mp4", ["/bouts"])).toBe(true);
  expect(liesInside("/bouts-private/b.mp4", ["/bouts"])).toBe(false);
  expect(liesInside("/bouts/b.mp4", ["/other", "/bouts/"])).toBe(true);
  expect(liesInside("/bouts/b.mp4", [])).toBe(false);
});

test("A chosen file is written as the way from the bout file's folder", () => {
  expect(relativePath("/bouts/spring", "/bouts/spring/qf.mp4")).toBe("qf.mp4");
  expect(relativePath("/bouts/spring", "/bouts/videos/qf.mp4")).toBe("../videos/qf.mp4");
  expect(relativePath("/c:/bouts", "/D:/qf.mp4")).toBeUndefined();
  expect(relativePath("/C:/bouts", "/c:/bouts/qf.mp4")).toBe("qf.mp4");
});
