using System.Diagnostics;

namespace Acquire.Rendering.Report;

/// <summary>
/// Prints a page to PDF through a Chromium browser that is on the search path; it is started without windows, on a profile of its own.
/// </summary>
/// <param name="time">Tells when it takes too long.</param>
/// <param name="searchPath">Folders to look in; null for those of the environment.</param>
internal sealed class PdfPrinter(TimeProvider time, string? searchPath = null)
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private static readonly string[] Programs = ["chromium", "chromium-browser"];
    private static readonly string[] Endings = OperatingSystem.IsWindows() ? [".exe"] : [""];

    /// <summary>The browser; null when there is none.</summary>
    public string? Program =>
        (from folder in (searchPath ?? Environment.GetEnvironmentVariable("PATH") ?? "").Split(
            Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
         from name in Programs
         from ending in Endings
         let file = Path.Combine(folder, name + ending)
         where File.Exists(file)
         select file).FirstOrDefault();

    /// <param name="cancellationToken">Ends the browser.</param>
    /// <exception cref="BenchException">There is no browser, or it made no PDF.</exception>
    public async Task PrintAsync(string page, WholeFile pdf, CancellationToken cancellationToken)
    {
        var program = Program ?? throw new BenchException(
            $"No PDF: there is no Chromium browser on the search path ({string.Join(", ", Programs)}). {page} is written; open it in "
            + "any browser and print it to PDF.");
        var scratch = Directory.CreateTempSubdirectory("acquire-pdf-");
        var made = Path.Combine(scratch.FullName, "page.pdf");
        try
        {
            var said = await RunAsync(program, scratch.FullName, made, page, cancellationToken);
            if (!await IsPdfAsync(made, cancellationToken))
            {
                throw new BenchException($"No PDF: {program} made none.{(said.Length > 0 ? " It said: " + said : "")} {page} is "
                    + "written; open it in any browser and print it to PDF.");
            }

            await using var whole = File.OpenRead(made);
            await pdf.WriteAsync(whole.CopyToAsync, cancellationToken);
        }
        finally
        {
            await RemoveAsync(scratch);
        }
    }

    /// <summary>Whether a file is a PDF by its first bytes (ISO 32000).</summary>
    private static async Task<bool> IsPdfAsync(string file, CancellationToken cancellationToken)
    {
        if (!File.Exists(file))
        {
            return false;
        }

        var head = new byte[5];
        await using var stream = File.OpenRead(file);
        return await stream.ReadAtLeastAsync(head, head.Length, throwOnEndOfStream: false, cancellationToken) == head.Length
            && head.AsSpan().SequenceEqual("%PDF-"u8);
    }

    private async Task<string> RunAsync(string program, string scratch, string pdf, string page, CancellationToken cancellationToken)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
        string[] arguments =
        [
            "--headless", "--disable-gpu", "--no-first-run", "--disable-extensions", "--disable-background-networking",
            "--no-pdf-header-footer",
            $"--user-data-dir={Path.Combine(scratch, "profile")}", $"--print-to-pdf={pdf}",
            // The browser refuses to run its sandbox for root.
            .. Environment.IsPrivilegedProcess && !OperatingSystem.IsWindows() ? ["--no-sandbox"] : Array.Empty<string>(),
            new Uri(Path.GetFullPath(page)).AbsoluteUri,
        ];
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using var late = new CancellationTokenSource(Patience, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(late.Token, cancellationToken);
        using var process = Process.Start(start) ?? throw new BenchException($"No PDF: {program} does not start.");
        try
        {
            // Both pipes are emptied at once: a browser that fills one while the other is waited for would hang.
            var (output, error) = (process.StandardOutput.ReadToEndAsync(either.Token), process.StandardError.ReadToEndAsync(either.Token));
            await process.WaitForExitAsync(either.Token);
            _ = await output;
            return (await error).Trim().Split('\n')[^1];
        }
        catch (OperationCanceledException) when (!cancellationToken.IsCancellationRequested)
        {
            return "nothing for two minutes";
        }
        finally
        {
            if (!process.HasExited)
            {
                process.Kill(entireProcessTree: true);
            }
        }
    }

    /// <summary>
    /// A browser may hold its files for a moment after it ended; what cannot be removed is left to the system's cleaning.
    /// </summary>
    private async Task RemoveAsync(DirectoryInfo folder)
    {
        for (var trial = 0; trial < 3; trial++)
        {
            try
            {
                folder.Delete(recursive: true);
                return;
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                await Task.Delay(TimeSpan.FromMilliseconds(200), time, CancellationToken.None);
            }
        }
    }
}
