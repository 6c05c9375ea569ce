/*
 * Runs forge.elf in simavr with a thermocouple chip and a transducer that say what they are told.
 *
 *   host forge.elf [--pty LINK] PHASE...
 *
 * A PHASE is SECONDS:MILLIVOLTS:WORD: for that many simulated seconds ADC0 sees that voltage (the supply is 5,000) and
 * the chip answers with that 32-bit word in hexadecimal; "none" for WORD leaves the chip's data line pulled up.
 * What the simulated UART sends goes to standard output, as fast as the simulation runs; with --pty to a pseudo terminal
 * that LINK is made to name, in real time. Ends after the last phase, or with exit code 1 when the simulated chip crashes.
 */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#include <simavr/avr_adc.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_spi.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>

#define FREQUENCY_HZ 16000000u
#define SUPPLY_MV 5000u

struct phase {
	double seconds;
	unsigned millivolts;
	bool present;
	uint32_t word;
};

static struct phase phase;
static int out;
static avr_irq_t *spi_in;
static bool selected;
static unsigned next_byte;

static void die(const char *what, const char *which)
{
	fprintf(stderr, "host: %s: %s\n", what, which);
	exit(2);
}

static void on_uart(avr_irq_t *irq, uint32_t value, void *param)
{
	(void)irq;
	(void)param;
	uint8_t byte = (uint8_t)value;
	/* A pty that nobody reads fills up; what does not fit is lost, as on a wire. */
	if (write(out, &byte, 1) != 1 && errno != EAGAIN && errno != EIO)
		die("write", strerror(errno));
}

static void on_select(avr_irq_t *irq, uint32_t level, void *param)
{
	(void)irq;
	(void)param;
	selected = level == 0;
	next_byte = 0;
}

static void on_spi(avr_irq_t *irq, uint32_t value, void *param)
{
	(void)irq;
	(void)value;
	(void)param;
	uint8_t answer = 0xFF;
	if (selected && phase.present && next_byte < 4)
		answer = (uint8_t)(phase.word >> (24 - 8 * next_byte++));
	avr_raise_irq(spi_in, answer);
}

static void on_conversion(avr_irq_t *irq, uint32_t value, void *param)
{
	(void)irq;
	(void)value;
	avr_t *avr = param;
	avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_ADC0), phase.millivolts);
}

/* Sleep as long as it takes to count the cycles, not as long as it would last. */
static void skip_sleep(avr_t *avr, avr_cycle_count_t cycles)
{
	(void)avr;
	(void)cycles;
}

static void open_pty(const char *link)
{
	int master = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
	if (master < 0 || grantpt(master) || unlockpt(master))
		die("pty", strerror(errno));
	int slave = open(ptsname(master), O_RDWR | O_NOCTTY);
	struct termios raw;
	/* The slave stays open here, so that the line settings outlive a reader that comes and goes. */
	if (slave < 0 || tcgetattr(slave, &raw))
		die("pty", strerror(errno));
	cfmakeraw(&raw);
	if (tcsetattr(slave, TCSANOW, &raw))
		die("pty", strerror(errno));
	unlink(link);
	if (symlink(ptsname(master), link))
		die(link, strerror(errno));
	out = master;
}

static avr_t *load(const char *file)
{
	elf_firmware_t firmware;
	memset(&firmware, 0, sizeof firmware);
	if (elf_read_firmware(file, &firmware))
		die("cannot read", file);
	avr_t *avr = avr_make_mcu_by_name("atmega328p");
	if (!avr)
		die("simavr knows no", "atmega328p");
	avr_init(avr);
	firmware.frequency = FREQUENCY_HZ;
	firmware.vcc = firmware.avcc = firmware.aref = SUPPLY_MV;
	avr_load_firmware(avr, &firmware);
	avr->frequency = FREQUENCY_HZ;
	avr->vcc = avr->avcc = avr->aref = SUPPLY_MV;
	return avr;
}

static void connect(avr_t *avr)
{
	uint32_t flags = 0;
	avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
	flags &= ~(uint32_t)(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POLL_SLEEP);
	avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
	avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), on_uart, NULL);
	avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), 2), on_select, NULL);
	spi_in = avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_INPUT);
	avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_OUTPUT), on_spi, NULL);
	avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_OUT_TRIGGER), on_conversion, avr);
}

static struct phase parse(const char *text)
{
	struct phase parsed = {.present = true};
	char word[9] = "";
	if (sscanf(text, "%lf:%u:%8s", &parsed.seconds, &parsed.millivolts, word) != 3 || !(parsed.seconds > 0))
		die("not SECONDS:MILLIVOLTS:WORD", text);
	if (!strcmp(word, "none")) {
		parsed.present = false;
	} else {
		char *end;
		parsed.word = (uint32_t)strtoul(word, &end, 16);
		if (*end)
			die("not a hexadecimal word", word);
	}
	return parsed;
}

static void run(avr_t *avr, bool real_time)
{
	avr_cycle_count_t end = avr->cycle + (avr_cycle_count_t)(phase.seconds * FREQUENCY_HZ);
	avr_cycle_count_t slice = FREQUENCY_HZ / 200;
	struct timespec due;
	clock_gettime(CLOCK_MONOTONIC, &due);
	avr_cycle_count_t next = avr->cycle + slice;
	while (avr->cycle < end) {
		int state = avr_run(avr);
		if (state == cpu_Done || state == cpu_Crashed) {
			fprintf(stderr, "host: the simulated chip stopped in state %d\n", state);
			exit(1);
		}
		if (real_time && avr->cycle >= next) {
			next += slice;
			due.tv_nsec += 5000000;
			if (due.tv_nsec >= 1000000000) {
				due.tv_nsec -= 1000000000;
				due.tv_sec++;
			}
			clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &due, NULL);
		}
	}
}

int main(int argc, char **argv)
{
	if (argc < 3)
		die("usage", "host forge.elf [--pty LINK] SECONDS:MILLIVOLTS:WORD...");
	/* simavr talks on standard output too: keep that for the lines and send the rest to standard error. */
	out = dup(STDOUT_FILENO);
	if (out < 0 || dup2(STDERR_FILENO, STDOUT_FILENO) < 0)
		die("dup", strerror(errno));
	avr_t *avr = load(argv[1]);
	connect(avr);
	avr->sleep = skip_sleep;
	int first = 2;
	const char *link = NULL;
	if (!strcmp(argv[2], "--pty") && argc > 4) {
		link = argv[3];
		open_pty(link);
		first = 4;
	}
	for (int i = first; i < argc; i++) {
		phase = parse(argv[i]);
		run(avr, link != NULL);
	}
	if (link)
		unlink(link);
	return 0;
}
