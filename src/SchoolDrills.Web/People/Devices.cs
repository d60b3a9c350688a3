namespace SchoolDrills.Web.People;

/// <summary>What a session was started with, in the words of whoever owns it.</summary>
public static class Devices
{
    // In the order asked: each calls itself by the names of those after it as well.
    private static readonly (string Mark, string Name)[] Browsers =
    [
        ("Edg/", "Edge"),
        ("Firefox/", "Firefox"),
        ("Chrome/", "Chrome"),
        ("Safari/", "Safari"),
    ];

    private static readonly (string Mark, string Name)[] Systems =
    [
        ("iPhone", "iPhone"),
        ("iPad", "iPad"),
        ("Android", "Android"),
        ("Windows", "Windows"),
        ("Macintosh", "Mac"),
        ("Linux", "Linux"),
    ];

    public static string Name(string? userAgent)
    {
        if (string.IsNullOrWhiteSpace(userAgent))
            return T["A program"];
        var browser = Array.Find(Browsers, b => userAgent.Contains(b.Mark, StringComparison.Ordinal)).Name;
        var system = Array.Find(Systems, s => userAgent.Contains(s.Mark, StringComparison.Ordinal)).Name;
        return browser is null ? (userAgent.Length > 40 ? userAgent[..40] + "…" : userAgent)
            : system is null ? browser
            : T["{0} on {1}", browser, system];
    }
}
