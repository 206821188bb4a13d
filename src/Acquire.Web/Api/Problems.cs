using System.Text.Json;
using System.Text.RegularExpressions;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Formats.ProcessSheets;
using Acquire.Instruments.Captures;
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

        var status = StatusOf(exception);
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
                Detail = status == StatusCodes.Status500InternalServerError ? "The service's log has the details." : Detail(exception),
            },
        });
    }

    private static int StatusOf(Exception fault) => fault switch
    {
        StoreException { Fault: StoreFault.NotFound } or BenchException { IsNotThere: true }
            or ProcessSheetException { IsNotThere: true } =>
            StatusCodes.Status404NotFound,
        StoreException { Fault: StoreFault.Duplicate or StoreFault.Conflict } => StatusCodes.Status409Conflict,
        StoreException { Fault: StoreFault.Ambiguous or StoreFault.Refused } => StatusCodes.Status422UnprocessableEntity,
        StoreException => StatusCodes.Status503ServiceUnavailable,
        LinkException { Fault: LinkFault.BadSettings } => StatusCodes.Status422UnprocessableEntity,
        LinkException => StatusCodes.Status503ServiceUnavailable,
        BenchException or GaugeException or ModelException or ImpossibleValueException or CaptureException =>
            StatusCodes.Status422UnprocessableEntity,
        ProfileException or ProcessSheetException or ImportException or ExportException => StatusCodes.Status422UnprocessableEntity,
        BadHttpRequestException bad => bad.StatusCode,
        _ => StatusCodes.Status500InternalServerError,
    };

    private static string Detail(Exception fault) => fault is BadHttpRequestException bad ? BadRequest.Words(bad) : fault.Message;
}

/// <summary>What is wrong with a request that cannot be understood, without the words of the program's own making.</summary>
internal static partial class BadRequest
{
    private const string See = "See the description at /openapi/v1.json.";

    public static string Words(BadHttpRequestException bad) => bad switch
    {
        { InnerException: JsonException json } => Words(json),
        _ when Parameter().Match(bad.Message) is { Success: true } parts =>
            $"'{Short(parts.Groups["given"].Value)}' is no {Name(parts)}. {See}",
        _ when bad.Message.Contains("no body was provided", StringComparison.Ordinal) => $"The request has no body. {See}",
        _ when Missing().Match(bad.Message) is { Success: true } parts => $"The request lacks {Name(parts)}. {See}",
        _ => bad.Message,
    };

    private static string Words(JsonException json)
    {
        var place = string.Create(
            CultureInfo.InvariantCulture,
            $"line {(json.LineNumber ?? 0) + 1}, byte {(json.BytePositionInLine ?? 0) + 1}, at {Short(json.Path ?? "$")}");
        return Lacking().Match(json.Message) is { Success: true } parts
            ? $"The body lacks {parts.Groups["names"].Value} at {Short(json.Path ?? "$")}. {See}"
            : Unknown().Match(json.Message) is { Success: true } unknown
                ? $"The body has '{Short(unknown.Groups["name"].Value)}', which is not known there ({place}). {See}"
                : $"The body cannot be read as what is expected: {place}. {See}";
    }

    private static string Name(Match parts) => JsonNamingPolicy.CamelCase.ConvertName(parts.Groups["name"].Value);

    private static string Short(string text) => text.Length > 80 ? text[..80] + "…" : text;

    [GeneratedRegex("""^Failed to bind parameter ".* (?<name>\S+)" from "(?<given>.*)"\.$""", RegexOptions.Singleline)]
    private static partial Regex Parameter();

    [GeneratedRegex("""^Required parameter ".* (?<name>\S+)" was not provided""")]
    private static partial Regex Missing();

    [GeneratedRegex("""missing required properties including: (?<names>.*)\.$""", RegexOptions.Singleline)]
    private static partial Regex Lacking();

    [GeneratedRegex("""^The JSON property '(?<name>.*)' could not be mapped""", RegexOptions.Singleline)]
    private static partial Regex Unknown();
}

/// <summary>
/// Writes every problem as a problem document, whatever the client says it accepts: there is no other form of it, and never a page.
/// </summary>
internal sealed class ProblemWriter : IProblemDetailsWriter
{
    /// <summary>A sentence that quotes a name as long as a book helps nobody.</summary>
    private const int LongestDetail = 2_000;

    public bool CanWrite(ProblemDetailsContext context) => true;

    public async ValueTask WriteAsync(ProblemDetailsContext context)
    {
        var (http, problem) = (context.HttpContext, context.ProblemDetails);
        var status = problem.Status ?? http.Response.StatusCode;
        problem.Status = status;
        problem.Title ??= TitleOf(status);
        problem.Detail ??= DetailOf(status, http);
        if (problem.Detail.Length > LongestDetail)
        {
            problem.Detail = problem.Detail[..LongestDetail] + "…";
        }

        await http.Response.WriteAsJsonAsync(
            problem, options: null, "application/problem+json; charset=utf-8", http.RequestAborted);
    }

    private static string TitleOf(int status) => status switch
    {
        StatusCodes.Status400BadRequest => "The request cannot be understood.",
        StatusCodes.Status401Unauthorized => "Nobody is let in without a token.",
        StatusCodes.Status403Forbidden => "This is not allowed.",
        StatusCodes.Status404NotFound => "That is not there.",
        StatusCodes.Status405MethodNotAllowed => "That cannot be done to this.",
        StatusCodes.Status409Conflict => "It stands against what is stored.",
        StatusCodes.Status413PayloadTooLarge => "The body is too large.",
        StatusCodes.Status415UnsupportedMediaType => "The body is of another kind than is taken here.",
        StatusCodes.Status422UnprocessableEntity => "It cannot be so.",
        StatusCodes.Status429TooManyRequests => "Too many requests.",
        StatusCodes.Status503ServiceUnavailable => "It cannot be done now.",
        _ => "A fault of the program.",
    };

    private static string DetailOf(int status, HttpContext http) => status switch
    {
        StatusCodes.Status401Unauthorized => "Send the token of service.json in the data folder, as Authorization: Bearer TOKEN.",
        StatusCodes.Status404NotFound => "There is nothing of this name. The description at /openapi/v1.json lists what there is.",
        StatusCodes.Status405MethodNotAllowed => $"{http.Request.Method} is not among what the description at /openapi/v1.json lists here.",
        StatusCodes.Status413PayloadTooLarge => "Send less at once.",
        StatusCodes.Status415UnsupportedMediaType => "Send application/json as the Content-Type, or for files what the description lists.",
        StatusCodes.Status429TooManyRequests => "Wait some seconds.",
        _ => "The description at /openapi/v1.json tells what is expected.",
    };
}

internal static partial class ProblemLog
{
    [LoggerMessage(1, LogLevel.Error, "{Method} {Path} failed")]
    public static partial void Fault(ILogger logger, string method, string path, Exception fault);
}
