namespace SchoolDrills.Web.Layout;

/// <summary>Where a person can go from the bar, by role.</summary>
public static class MainNavigation
{
    public static IReadOnlyList<(string Address, string Label)> For(SignedIn person) =>
        person switch
        {
            { IsChief: true } =>
            [
                ("/", "Desk"),
                ("/school", "School"),
                ("/students", "Students"),
                ("/assign", "Assign"),
                ("/catalogue", "Drills"),
                ("/standards", "Standards"),
                ("/school/areas", "Areas"),
                ("/people", "People"),
                ("/upload", "Upload"),
                ("/try", "Try a recording"),
            ],
            { Teaches: true } =>
            [
                ("/", "Desk"),
                ("/assign", "Assign"),
                ("/students", "Students"),
                ("/catalogue", "Drills"),
                ("/standards", "Standards"),
                ("/school/areas", "Areas"),
                ("/upload", "Upload"),
                ("/try", "Try a recording"),
            ],
            _ =>
            [
                ("/", "My work"),
                ("/progress", "Progress"),
                ("/catalogue", "Drills"),
                ("/upload", "Upload"),
                ("/try", "Try a recording"),
            ],
        };
}
