// A day as people read it.

const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** `2026-10-17` as `17 October 2026`; text of another shape stays as it is. */
export function formatDate(date: string | undefined): string | undefined {
  const parts = date === undefined ? null : /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  const month = months[Number(parts?.[2]) - 1];
  return parts === null || month === undefined ? date : `${Number(parts[3])} ${month} ${parts[1] ?? ""}`;
}
