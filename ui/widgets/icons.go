package widgets

// lineIcon is the drawing of an icon with one pen width on a grid of 24 units.
func lineIcon(name string) (string, bool) {
	drawing, ok := map[string]string{
		"coil":     `<path d="M12.300 12.200c.9-.1 1.700.6 1.600 1.500-.1 1.200-1.200 1.900-2.300 1.800-1.900-.1-3.100-1.700-2.900-3.500.2-2.400 2.300-3.900 4.600-3.600 2.900.3 4.900 2.800 4.500 5.600-.4 3.500-3.500 5.700-6.900 5.300-4.100-.5-6.800-4.100-6.200-8.100.6-4.400 4.700-7.200 9-6.600 1.900.3 3.600 1.100 4.900 2.400"/><circle cx="19.300" cy="7.400" r=".6"/>`,
		"animals":  `<path d="M12.4 12.2c.9-.1 1.700.6 1.600 1.500-.1 1.200-1.200 1.900-2.300 1.800-1.900-.1-3.100-1.700-2.900-3.500.2-2.400 2.300-3.900 4.600-3.600 2.900.3 4.900 2.800 4.500 5.600-.4 3.500-3.500 5.700-6.900 5.300-4.100-.5-6.800-4.100-6.200-8.100.6-4.400 4.700-7.200 9-6.600 1.900.3 3.600 1.100 4.900 2.400"/><circle cx="19.300" cy="7.400" r="1"/>`,
		"bin":      `<path d="M5 7h14M9 7V4.500h6V7M7 7l1 13h8l1-13M10.500 10.500v6M13.500 10.500v6"/>`,
		"calendar": `<path d="M4.500 6h15v14h-15zM4.500 10.500h15M8.500 3.500V7M15.500 3.500V7"/>`,
		"camera":   `<path d="M4 8h3.4l1.6-2.5h6L16.600 8H20v11H4z"/><circle cx="12" cy="13.200" r="3.2"/>`,
		"caution":  `<path d="M12 4l9 16H3zM12 10v5M12 17.400v.2"/>`,
		"check":    `<circle cx="10.500" cy="10.500" r="6"/><path d="M15 15l5 5"/>`,
		"clean":    `<path d="M17.500 3.500L11 11.500M8.500 10.500l5 4-4 6-6-4zM9 13.800l-2.800 4.400"/>`,
		"clock":    `<circle cx="12" cy="12" r="8.500"/><path d="M12 7v5.300l3.300 2"/>`,
		"close":    `<path d="M6 6l12 12M18 6L6 18"/>`,
		"dash":     `<path d="M7 12h10"/>`,
		"dose":     `<path d="M14.500 4.500l5 5M16.500 6.500l-2.500 2.500M9 9l6 6-5.500 5.500H4v-5.500zM4 20l-1.500 1.500M11 11l2 2"/>`,
		"down":     `<path d="M6 9.500l6 6 6-6"/>`,
		"enter":    `<path d="M19 6v6.500H6M9.500 8.500l-4 4 4 4"/>`,
		"eye":      `<path d="M3 12c3.500-6 14.500-6 18 0-3.500 6-14.500 6-18 0z"/><circle cx="12" cy="12" r="2.6"/>`,
		"fall":     `<path d="M7 7l10 10M17 9v8H9"/>`,
		"feed":     `<path d="M3.500 12.500c.6 5 4 7 8.500 7s7.900-2 8.500-7M2.500 12.500h19M9 9.500c-1.300-2 1.200-3.300-.5-5.500M14 9.500c-1.300-2 1.200-3.300-.5-5.500"/>`,
		"folder":   `<path d="M3.500 18.500v-12h6l2 2.500h9v9.500z"/>`,
		"gauge":    `<path d="M4.700 17.500a8.500 8.500 0 1 1 14.600 0M12 13.500l4-5"/><circle cx="12" cy="14.500" r="1.400"/>`,
		"grid":     `<path d="M4.500 4.500h6v6h-6zM13.500 4.500h6v6h-6zM4.500 13.500h6v6h-6zM13.500 13.500h6v6h-6z"/>`,
		"lamp":     `<path d="M9 17.500c0-2-3.500-3.500-3.500-7.500a6.500 6.500 0 0 1 13 0c0 4-3.500 5.500-3.500 7.500zM9.500 20.500h5M12 17.500v-5"/>`,
		"left":     `<path d="M14.500 6l-6 6 6 6"/>`,
		"lock":     `<path d="M6 11h12v9H6zM8.500 11V8a3.500 3.500 0 0 1 7 0v3"/>`,
		"meal":     `<path d="M3.500 17.500c0-5.500 3.800-9 8.300-9 5 0 8.700 3.800 8.700 9zM8.200 9.300C7.600 7.300 8.700 6 10.300 6c1.500 0 2.400 1 2.300 2.500"/><circle cx="7" cy="13.700" r="0.5"/>`,
		"mite":     `<ellipse cx="12" cy="13" rx="4.600" ry="5.600"/><path d="M7.600 11L4 8.500M16.400 11L20 8.500M7.200 14l-3.700.5M16.800 14l3.700.5M8.400 17l-2.900 3M15.600 17l2.900 3M10.500 7.500l-1-3M13.500 7.500l1-3"/>`,
		"more":     `<path d="M6 12h.1M12 12h.1M18 12h.1"/>`,
		"move":     `<path d="M4 12h15M14 7l5 5-5 5"/>`,
		"newcomer": `<path d="M10 4h9v16h-9M3.500 12h9.500M9.500 8.500L13 12l-3.500 3.500"/>`,
		"note":     `<path d="M5 19l1-4L15.500 5.500l3 3L9 18zM13.500 7.500l3 3"/>`,
		"open":     `<path d="M13 4.500h6.500V11M19 5l-8.500 8.500M16.500 13v6.500h-12v-12H11"/>`,
		"papers":   `<path d="M6 3.5h8l4 4v13H6zM14 3.5v4h4M9 12h6M9 16h6"/>`,
		"parcel":   `<path d="M4 8l8-4 8 4v8.500l-8 4-8-4zM4 8l8 4 8-4M12 12v8.500"/>`,
		"person":   `<circle cx="12" cy="8" r="3.500"/><path d="M5 20c.5-4.500 3-6.500 7-6.500s6.500 2 7 6.500"/>`,
		"phone":    `<path d="M7 3.500l2.800 4.800-1.800 2c1 2.200 2.700 4 5 5l2-1.800 4.700 2.800c-.3 2.700-1.700 4.200-4 4C9.500 19.500 4.500 14 3.500 8c-.2-2.300 1-3.900 3.500-4.500z"/>`,
		"plus":     `<path d="M12 5v14M5 12h14"/>`,
		"print":    `<path d="M7 9V4h10v5M7 17H4V9h16v8h-3M7 14h10v6H7z"/>`,
		"ring":     `<circle cx="12" cy="12" r="7.500"/>`,
		"right":    `<path d="M9.500 6l6 6-6 6"/>`,
		"rows":     `<path d="M4 6.500h16M4 12h16M4 17.500h16"/>`,
		"same":     `<path d="M5 9.500h14M5 14.500h14"/>`,
		"search":   `<circle cx="10.500" cy="10.500" r="6"/><path d="M15 15l5 5"/>`,
		"settings": `<path d="M4 7h9M17 7h3M4 12h3M11 12h9M4 17h7M15 17h5"/><circle cx="15" cy="7" r="1.900"/><circle cx="9" cy="12" r="1.900"/><circle cx="13" cy="17" r="1.900"/>`,
		"clutch":   `<ellipse cx="7.500" cy="14.500" rx="4" ry="5.500"/><ellipse cx="16.500" cy="14.500" rx="4" ry="5.500"/><path d="M8.700 8.800C9.300 6 10.500 4 12 4s2.700 2 3.300 4.800"/>`,
		"shed":     `<path d="M5 20c7 0 2.500-8 7-8s0-8 7-8"/><path d="M9.500 20.500c5.500-.6 2.700-7 6-7.600 3.600-.7 1-6 4.500-6.900" stroke-dasharray="2.200 2.400"/>`,
		"shelf":    `<path d="M3 11h18M3 20h18M5 11V6h6v5M14 11V4h5v7M5 20v-5h5v5M13 20v-6h6v6"/>`,
		"skip":     `<path d="M5 6l8 6-8 6zM17 6v12"/>`,
		"source":   `<path d="M12 7c-2-1.600-4.500-2-8-2v13c3.500 0 6 .4 8 2 2-1.600 4.500-2 8-2V5c-3.500 0-6 .4-8 2zM12 7v13"/>`,
		"swab":     `<path d="M13.800 10.200L4 20M13.800 10.200c-1-1-.6-2.800.9-4.300s3.300-1.900 4.300-.9.6 2.800-.9 4.300-3.300 1.900-4.300.9z"/>`,
		"tick":     `<path d="M5 12.5l4.5 4.5L19 7.5"/>`,
		"tube":     `<path d="M8 3.500h8M9 3.500v13.500a3 3 0 0 0 6 0V3.500M9 11h6"/>`,
		"undo":     `<path d="M8 5L4 9l4 4M4 9h10a5 5 0 0 1 0 10h-4"/>`,
		"up":       `<path d="M7 17L17 7M9 7h8v8"/>`,
		"vet":      `<path d="M4 8h16v11.500H4zM9 8V5h6v3M12 11v5.500M9.250 13.750h5.500"/>`,
		"waste":    `<path d="M5 18.500h14c0-3-2-4-4-4.500.500-2.500-1-4-3-4 .5-1.500 0-3-1.500-4-.2 3-3.500 4-2.500 8-2.500.5-3 2-3 4.500z"/>`,
		"warmth":   `<path d="M10 14.300V6a2 2 0 0 1 4 0v8.300"/><circle cx="12" cy="17.200" r="3.200"/>`,
		"weight":   `<circle cx="12" cy="6" r="2.3"/><path d="M8 10h8l3 10H5z"/>`,
	}[name]
	return drawing, ok
}

// solidIcon is the drawing of a sign in two colours: {c} and, on it, {o}. Each
// step of urgency has an outline of its own.
func solidIcon(name string) (string, bool) {
	drawing, ok := map[string]string{
		"again!": `<circle cx="12" cy="12" r="9.500" fill="{c}"/><path d="M12 7v5l3.500 2.500" stroke="{o}" stroke-width="2.200" stroke-linecap="round" stroke-linejoin="round" fill="none"/>`,
		"clear!": `<circle cx="12" cy="12" r="10" fill="{c}"/><path d="M7.500 12.500l3 3 6-6.500" stroke="{o}" stroke-width="2.400" stroke-linecap="round" stroke-linejoin="round" fill="none"/>`,
		"days!":  `<path d="M12 1.500L22.500 12 12 22.500 1.500 12z" fill="{c}"/><path d="M12 7v5.500M12 16v.3" stroke="{o}" stroke-width="2.200" stroke-linecap="round" fill="none"/>`,
		"dot!":   `<circle cx="12" cy="12" r="10" fill="{c}"/>`,
		"ghost!": `<circle cx="12" cy="12" r="10" fill="{o}" stroke="{c}" stroke-width="2.200" stroke-dasharray="4 2.280"/>`,
		"gone!":  `<circle cx="12" cy="12" r="7" fill="{o}" stroke="{c}" stroke-width="2"/><path d="M7 17L17 7" stroke="{c}" stroke-width="2"/>`,
		"left!":  `<circle cx="12" cy="12" r="9" fill="{o}" stroke="{c}" stroke-width="2"/><path d="M8 12h8" stroke="{c}" stroke-width="2.400" stroke-linecap="round"/>`,
		"now!":   `<circle cx="12" cy="12" r="9" fill="{o}" stroke="{c}" stroke-width="2.600"/><circle cx="12" cy="12" r="4.600" fill="{c}"/>`,
		"often!": `<path d="M4 3h16v18H4z" fill="{c}"/><path d="M8 12.300l3 3 5-6" stroke="{o}" stroke-width="2.200" stroke-linecap="round" stroke-linejoin="round" fill="none"/>`,
		"ring!":  `<circle cx="12" cy="12" r="9" fill="{o}" stroke="{c}" stroke-width="2"/>`,
		"unmet!": `<circle cx="12" cy="12" r="9" fill="{o}" stroke="{c}" stroke-width="2"/><path d="M8.700 8.700l6.600 6.600M15.300 8.700l-6.600 6.600" stroke="{c}" stroke-width="2.400" stroke-linecap="round"/>`,
		"today!": `<path d="M12 2.500L22.500 21H1.500z" fill="{c}"/><path d="M12 9v6M12 17.800v.3" stroke="{o}" stroke-width="2.200" stroke-linecap="round" fill="none"/>`,
	}[name]
	return drawing, ok
}
