using System.Security.Cryptography;
using System.Text;
using SchoolDrills.Contracts;

namespace SchoolDrills.Api.Demo;

/// <summary>Someone of the demo school; everybody is invented.</summary>
/// <param name="Key">First part of the address, and the name the demo's work goes by.</param>
internal sealed record DemoPerson(string Key, string DisplayName, params string[] Roles)
{
    public Guid Id { get; } = DemoPeople.Fixed("person " + Key);

    public string Email => Key + "@tussockplains.example";
}

/// <summary>The demo school and its people. Their numbers are fixed, so that a restart finds them again.</summary>
internal static class DemoPeople
{
    public const string SchoolName = "Tussock Plains Flying School",
        TimeZone = "Pacific/Auckland",
        Password = "drills-demo";

    public static readonly Guid SchoolId = Fixed("school");

    public static readonly IReadOnlyList<DemoPerson> All =
    [
        new("chief", "Marama Hollis", Roles.Chief, Roles.Instructor),
        new("instructor", "Tom Kereama", Roles.Instructor),
        new("priya", "Priya Nand", Roles.Instructor),
        new("callum", "Callum Reid", Roles.Instructor),
        new("student", "Aroha Tamihana", Roles.Student),
        new("wiremu", "Wiremu Hakaraia", Roles.Student),
        new("jess", "Jess Calder", Roles.Student),
        new("sione", "Sione Vaka", Roles.Student),
        new("hana", "Hana Marsh", Roles.Student),
        new("ben", "Ben Oliphant", Roles.Student),
        new("ruby", "Ruby Te Ariki", Roles.Student),
        new("finn", "Finn Gallagher", Roles.Student),
    ];

    public static Guid IdOf(string key) => All.Single(p => p.Key == key).Id;

    /// <summary>The same number for the same words on every machine.</summary>
    public static Guid Fixed(string what) =>
        new(SHA256.HashData(Encoding.UTF8.GetBytes("Tussock Plains " + what)).AsSpan(0, 16), bigEndian: true);
}
