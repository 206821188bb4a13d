using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Security;

/// <summary>Says no, as problem details, with what to do.</summary>
internal static class Refusal
{
    public static async Task WriteAsync(HttpContext context, int status, string title, string detail, TimeSpan? retryAfter = null)
    {
        context.Response.StatusCode = status;
        if (retryAfter is { } wait)
        {
            context.Response.Headers.RetryAfter = Math.Max(1, Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
        }

        var problem = new ProblemDetails { Status = status, Title = title, Detail = detail };
        await context.RequestServices.GetRequiredService<IProblemDetailsService>()
            .WriteAsync(new ProblemDetailsContext { HttpContext = context, ProblemDetails = problem });
    }
}
