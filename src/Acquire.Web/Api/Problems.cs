using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Instruments.Links;
using Acquire.Instruments.Profiles;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Turns the faults that a user can mend into problem details; anything else is a fault of the program, and is logged.</summary>
internal sealed class ProblemHandler(IProblemDetailsService problems, ILogger<ProblemHandler> logger) : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext context, Exception exception, CancellationToken cancellationToken)
    {
        if (context.RequestAborted.IsCancellationRequested)
        {
            return true;
        }

        var (status, title) = Of(exception);
        if (status == StatusCodes.Status500InternalServerError)
        {
            ProblemLog.Fault(logger, context.Request.Method, context.Request.Path.Value ?? "", exception);
        }

        context.Response.StatusCode = status;
        return await problems.TryWriteAsync(new ProblemDetailsContext
        {
            HttpContext = context,
            ProblemDetails = new ProblemDetails
            {
                Status = status,
                Title = title,
                Detail = status == StatusCodes.Status500InternalServerError ? "The service's log has the details." : exception.Message,
            },
        });
    }

    private static (int Status, string Title) Of(Exception fault) => fault switch
    {
        StoreException { Fault: StoreFault.NotFound } => (StatusCodes.Status404NotFound, "There is no such record."),
        StoreException { Fault: StoreFault.Duplicate or StoreFault.Conflict } =>
            (StatusCodes.Status409Conflict, "It stands against what is stored."),
        StoreException { Fault: StoreFault.Ambiguous or StoreFault.Refused } => (StatusCodes.Status400BadRequest, "It cannot be so."),
        StoreException => (StatusCodes.Status503ServiceUnavailable, "The store cannot be used."),
        LinkException { Fault: LinkFault.BadSettings } => (StatusCodes.Status400BadRequest, "It cannot be so."),
        LinkException => (StatusCodes.Status503ServiceUnavailable, "The instrument cannot be reached."),
        BenchException or GaugeException or ModelException or ImpossibleValueException or ProfileException or ImportException =>
            (StatusCodes.Status400BadRequest, "It cannot be so."),
        BadHttpRequestException bad => (bad.StatusCode, "The request cannot be understood."),
        _ => (StatusCodes.Status500InternalServerError, "A fault of the program."),
    };
}

internal static partial class ProblemLog
{
    [LoggerMessage(1, LogLevel.Error, "{Method} {Path} failed")]
    public static partial void Fault(ILogger logger, string method, string path, Exception fault);
}
