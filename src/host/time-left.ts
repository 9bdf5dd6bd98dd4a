// How much longer does work take, in words a person would use?

export function timeLeft(seconds: number): string {
  if (seconds < 10) return "a few seconds left";
  if (seconds < 55) return `${Math.round(seconds / 10) * 10} seconds left`;
  const minutes = Math.round(seconds / 60);
  if (minutes <= 1) return "a minute left";
  if (minutes < 60) return `${minutes} minutes left`;
  const hours = Math.floor(minutes / 60);
  return `${hours} ${hours === 1 ? "hour" : "hours"} ${minutes % 60} minutes left`;
}
