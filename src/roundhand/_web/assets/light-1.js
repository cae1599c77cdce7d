try {
  const light = localStorage.getItem("roundhand:light");
  if (light === "light" || light === "dark") document.documentElement.dataset.light = light;
} catch {
  /* Where nothing may be kept, the system's own choice stands. */
}
