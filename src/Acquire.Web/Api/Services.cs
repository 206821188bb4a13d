using Acquire.Bench.Books;
using Acquire.Bench.Causes;
using Acquire.Bench.Charts;
using Acquire.Bench.Daily;
using Acquire.Bench.Export;
using Acquire.Bench.Import;
using Acquire.Bench.Instruments;
using Acquire.Bench.Life;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Reports;
using Acquire.Bench.Safety;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Acquire.Web.Api;

/// <summary>The desks and books that routes ask. None keeps anything but the store behind it, so one of each serves all.</summary>
internal static class Services
{
    public static IServiceCollection AddDesks(this IServiceCollection services, string dataFolder)
    {
        Type[] desks =
        [
            typeof(LotBook), typeof(StripBook), typeof(LotCrossover), typeof(LotBaseline), typeof(ReferenceEntry), typeof(Rechecks),
            typeof(DarkroomBooks), typeof(BookViews), typeof(CheckBook), typeof(RepeatabilityBook), typeof(RepeatabilityEntry),
            typeof(InstrumentBook), typeof(ChartDesk), typeof(CauseDesk), typeof(LifeDesk), typeof(DailyDesk), typeof(ReportDesk),
            typeof(ExportDesk), typeof(StripImporter),
        ];
        foreach (var desk in desks)
        {
            services.TryAddSingleton(desk);
        }

        ReceivedFile.Sweep(dataFolder);
        services.TryAddSingleton(s => new StoreCare(dataFolder, s.GetRequiredService<TimeProvider>()));
        services.TryAddSingleton(new VerdictLevels(dataFolder));
        services.TryAddSingleton(new DataPlace(dataFolder));
        return services;
    }
}
