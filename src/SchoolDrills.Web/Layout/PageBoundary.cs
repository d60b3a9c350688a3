using System.Diagnostics;
using Microsoft.AspNetCore.Components.Web;

namespace SchoolDrills.Web.Layout;

/// <summary>Catches a page's fault, and gives it a number that stands in the log as well.</summary>
public sealed class PageBoundary : ErrorBoundary
{
    /// <summary>For a person to quote.</summary>
    public string? Number { get; private set; }

    protected override async Task OnErrorAsync(Exception exception)
    {
        using var fault = new Activity("page-fault").Start();
        Number = fault.TraceId.ToHexString();
        await base.OnErrorAsync(exception);
    }
}
