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
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var report = await new ReportLoader(store, surroundings.Time).LoadAsync(options.Asked(parsed), cancellationToken);
            await file.WriteAsync(ReportHtml.Of(report, options.Title(parsed, report), paper), cancellationToken);
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
