using MudBlazor;

namespace SchoolDrills.Web.Layout;

/// <summary>What the component library must know of our look; colours live in css/theme.css alone, for both themes.</summary>
public static class AppTheme
{
    private static readonly string[] Sans = ["system-ui", "-apple-system", "Segoe UI", "Roboto", "Liberation Sans", "sans-serif"];

    public static MudTheme Theme { get; } =
        new()
        {
            LayoutProperties = new LayoutProperties { DefaultBorderRadius = "3px" },
            Typography = new Typography
            {
                Default = new DefaultTypography
                {
                    FontFamily = Sans,
                    FontSize = "0.9375rem",
                    LineHeight = "1.45",
                    LetterSpacing = "0",
                },
                Button = new ButtonTypography
                {
                    FontFamily = Sans,
                    TextTransform = "none",
                    LetterSpacing = "0",
                    FontWeight = "500",
                },
            },
        };
}
