namespace SchoolDrills.Web.Layout;

/// <summary>A place to go to.</summary>
/// <param name="Row">How wide the window must be for it to stand in the row, 1 the narrowest; 0 where it is in the menu alone.</param>
public sealed record Place(string Address, string Label, int Row = 0)
{
    /// <summary>Not a page of this app: the browser loads it whole.</summary>
    public bool Outside => Address.StartsWith("/cockpit/", StringComparison.Ordinal);
}

/// <summary>Places that belong together.</summary>
public sealed record PlaceGroup(string Title, IReadOnlyList<Place> Places);

/// <summary>Where a person can go, by role. The menu holds all of it; the row, what is used most.</summary>
public static class MainNavigation
{
    public static IReadOnlyList<PlaceGroup> For(SignedIn person) =>
        person switch
        {
            { IsChief: true } =>
            [
                new("Work", [new("/", "Desk", 1), new("/students", "Students", 1), new("/assign", "Assign", 2), .. Flying]),
                new("Drills", [new("/catalogue", "Drills", 1), new("/standards", "Standards"), new("/try", "Try a recording")]),
                new(
                    "School",
                    [
                        new("/school", "School", 2),
                        new("/people", "People", 2),
                        new("/records", "Records", 3),
                        new("/audit", "Audit trail", 3),
                        new("/school/areas", "Areas"),
                        new("/aircraft", "Aircraft"),
                        new("/school/stages", "Stages"),
                        new("/school/grading", "Grading"),
                    ]
                ),
                You,
            ],
            { Teaches: true } =>
            [
                new("Work", [new("/", "Desk", 1), new("/students", "Students", 1), new("/assign", "Assign", 2), .. Flying]),
                new("Drills", [new("/catalogue", "Drills", 1), new("/standards", "Standards", 3), new("/try", "Try a recording", 3)]),
                new("School", [new("/people", "People"), new("/school/areas", "Areas"), new("/aircraft", "Aircraft")]),
                You,
            ],
            _ =>
            [
                new("Work", [new("/", "My work", 1), new("/progress", "Progress", 1), new("/upload", "Upload", 2)]),
                new("Drills", [new("/catalogue", "Drills", 1), new("/try", "Try a recording", 2), new("/school/areas", "Areas")]),
                You with
                {
                    Places = [new($"/students/{person.Id}/record", "My record", 2), .. You.Places],
                },
            ],
        };

    private static readonly Place[] Flying = [new("/cockpit/", "Cockpit", 3), new("/upload", "Upload", 2)];

    private static readonly PlaceGroup You = new("You", [new("/notices", "Notices"), new("/account", "My account"), new("/help", "Help")]);
}
