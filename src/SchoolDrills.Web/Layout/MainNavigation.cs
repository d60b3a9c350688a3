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
                new(T["Work"], [new("/", T["Desk"], 1), new("/students", T["Students"], 1), new("/assign", T["Assign"], 2), .. Flying]),
                new(T["Drills"], [new("/catalogue", T["Drills"], 1), new("/standards", T["Standards"]), new("/try", T["Try a recording"])]),
                new(
                    T["School"],
                    [
                        new("/school", T["School"], 2),
                        new("/people", T["People"], 2),
                        new("/records", T["Records"], 3),
                        new("/audit", T["Audit trail"], 3),
                        new("/school/areas", T["Areas"]),
                        new("/aircraft", T["Aircraft"]),
                        new("/school/stages", T["Stages"]),
                        new("/school/grading", T["Grading"]),
                        new("/school/status", T["Status"]),
                    ]
                ),
                You,
            ],
            { Teaches: true } =>
            [
                new(T["Work"], [new("/", T["Desk"], 1), new("/students", T["Students"], 1), new("/assign", T["Assign"], 2), .. Flying]),
                new(
                    T["Drills"],
                    [new("/catalogue", T["Drills"], 1), new("/standards", T["Standards"], 3), new("/try", T["Try a recording"], 3)]
                ),
                new(T["School"], [new("/people", T["People"]), new("/school/areas", T["Areas"]), new("/aircraft", T["Aircraft"])]),
                You,
            ],
            _ =>
            [
                new(T["Work"], [new("/", T["My work"], 1), new("/progress", T["Progress"], 1), new("/upload", T["Upload"], 2)]),
                new(
                    T["Drills"],
                    [new("/catalogue", T["Drills"], 1), new("/try", T["Try a recording"], 2), new("/school/areas", T["Areas"])]
                ),
                You with
                {
                    Places = [new($"/students/{person.Id}/record", T["My record"], 2), .. You.Places],
                },
            ],
        };

    private static Place[] Flying => [new("/cockpit/", T["Cockpit"], 3), new("/upload", T["Upload"], 2)];

    private static PlaceGroup You =>
        new(T["You"], [new("/notices", T["Notices"]), new("/account", T["My account"]), new("/help", T["Help"])]);
}
