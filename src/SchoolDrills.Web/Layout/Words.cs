using Microsoft.Extensions.Localization;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;

namespace SchoolDrills.Web.Layout;

/// <summary>
/// What a person reads in a page, looked up in <c>Strings.resx</c> in the language of the thread. The key is the English text; where
/// one text means two things, or differs from another by a capital alone, " | " and what is meant follow it.
/// </summary>
public static class Words
{
    public static IStringLocalizer T { get; } =
        new ResourceManagerStringLocalizerFactory(Options.Create(new LocalizationOptions()), NullLoggerFactory.Instance).Create(
            "Strings",
            typeof(Words).Assembly.GetName().Name!
        );
}
