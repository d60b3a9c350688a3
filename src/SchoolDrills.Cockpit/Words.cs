using System.Globalization;
using Microsoft.Extensions.Localization;

namespace SchoolDrills.Cockpit;

/// <summary>
/// The words of the other pages, by the same keys. The page is fetched over the air before a flight, so it carries no resource: the
/// key is the text.
/// </summary>
public static class Words
{
    public static IStringLocalizer T { get; } = new KeyAsText();

    private sealed class KeyAsText : IStringLocalizer
    {
        public LocalizedString this[string name] => new(name, Text(name));

        public LocalizedString this[string name, params object[] arguments] =>
            new(name, string.Format(CultureInfo.InvariantCulture, Text(name), arguments));

        public IEnumerable<LocalizedString> GetAllStrings(bool includeParentCultures) => [];

        /// <summary>What stands before the bar; what follows it says which of two meanings is meant.</summary>
        private static string Text(string name) => name.IndexOf(" | ", StringComparison.Ordinal) is var bar and > 0 ? name[..bar] : name;
    }
}
