using System.Diagnostics;
using ImportLoad;

// How much memory and time a number of reads takes, in and out: ImportLoad [READS …]. Each number runs in a process of its own, so that the
// peak is its own.
if (args is ["--one", var count, var own])
{
    await Load.RunAsync(int.Parse(count, CultureInfo.InvariantCulture), own, CancellationToken.None);
    return 0;
}

Console.WriteLine("   reads  step          seconds   peak MB");
foreach (var reads in args.Length > 0 ? args : ["10000", "1000000"])
{
    var folder = Directory.CreateTempSubdirectory("acquire-load-").FullName;
    try
    {
        using var process = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["--one", reads, folder]))!;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            return process.ExitCode;
        }
    }
    finally
    {
        Directory.Delete(folder, recursive: true);
    }
}

return 0;
