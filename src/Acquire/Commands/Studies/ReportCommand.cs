using Acquire.Bench.Reports;
using Acquire.Rendering.Report;

namespace Acquire.Commands.Studies;

/// <summary><c>acquire report</c>: one page for a period, a line, a bottle or a strip, to keep, to print, to hand on.</summary>
internal static class ReportCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var options = new ReportOptions();
        var command = new Command("report", "Write a report as one HTML file, and as PDF: is the process in control, what moved, what "
            + "may be behind it, how long the developer lasts.");
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var (file, paper) = (OutFile.At(parsed, options.File(parsed)), options.Paper(parsed));
            var pdf = options.Pdf(parsed) is { } named ? OutFile.At(parsed, named) : null;
            var asked = options.Asked(parsed, surroundings.Time);
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var report = await new ReportDesk(store, surroundings.Time).AskAsync(asked, cancellationToken);
            await file.WriteAsync(ReportHtml.Of(report, paper), cancellationToken);
            surroundings.Error.Line($"Wrote {file.Name}: {Numbers.Count(report.History.Strips.Length, "strip")}.");
            if (pdf is not null)
            {
                await new PdfPrinter(surroundings.Time).PrintAsync(file.Name, pdf, cancellationToken);
                surroundings.Error.Line($"Wrote {pdf.Name}.");
            }

            return ExitCode.Done;
        });
        return command;
    }
}

internal sealed class ReportOptions
{
    private const string UsualFile = "report.html";

    private readonly StripFilterOptions _strips = new();
    private readonly Option<string?> _strip =
        new("--strip") { Description = "About this one strip; those of its line that ran before stand beside it.", HelpName = "ID" };

    private readonly Option<string> _out = new("--out")
    {
        Description = "Write the report to this file, .html.",
        HelpName = "FILE",
        DefaultValueFactory = _ => UsualFile,
    };

    private readonly Option<string?> _pdf =
        new("--pdf") { Description = "Print it to this file, .pdf, too; needs a Chromium browser on this computer.", HelpName = "FILE" };

    private readonly Option<string?> _paper =
        new("--paper") { Description = "Size of the paper: a4 or letter; what the printer has when not given.", HelpName = "SIZE" };

    public void AddTo(Command command)
    {
        _strips.AddTo(command, process: true, bottle: true);
        foreach (Option option in new Option[] { _strip, _out, OutFile.Force, _pdf, _paper })
        {
            command.Add(option);
        }
    }

    public ReportAsked Asked(ParseResult parsed, TimeProvider time) => new(_strips.Of(parsed, time), parsed.GetValue(_strip));

    /// <exception cref="BenchException">It has another ending.</exception>
    public string File(ParseResult parsed) => Ending(parsed.GetValue(_out)!, ".html", "--out", ".htm");

    /// <summary>The file of the PDF; null when none is asked for.</summary>
    /// <exception cref="BenchException">It has another ending.</exception>
    public string? Pdf(ParseResult parsed) => parsed.GetValue(_pdf) is { } file ? Ending(file, ".pdf", "--pdf") : null;

    /// <exception cref="BenchException">It is another one.</exception>
    public string? Paper(ParseResult parsed) => ReportPaper.Parse(parsed.GetValue(_paper));

    private static string Ending(string file, string ending, string option, string? alsoGood = null) =>
        Path.GetExtension(file) is var has
            && (has.Equals(ending, StringComparison.OrdinalIgnoreCase) || has.Equals(alsoGood, StringComparison.OrdinalIgnoreCase))
            ? file
            : throw new BenchException($"{option} writes a file that ends with {ending}, and '{file}' does not.");
}
